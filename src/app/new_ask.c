/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/new_ask.h"

#include <string.h>

/*
 * A line without its ending and outer blanks, and whether all of it had room; false at the end
 * of the stream.
 */
static bool read_line(FILE *in, char *line, size_t size, bool *whole)
{
    if (!fgets(line, (int)size, in))
        return false;
    *whole = true;
    for (int letter = strchr(line, '\n') ? '\n' : getc(in); letter != EOF && letter != '\n';) {
        *whole = false;
        letter = getc(in);
    }
    const size_t blanks = strspn(line, " \t");
    memmove(line, line + blanks, strlen(line + blanks) + 1);
    for (size_t end = strlen(line); end > 0 && strchr(" \t\r\n", line[end - 1]);)
        line[--end] = 0;
    return true;
}

/* One question until its answer is good. */
static fe_status ask_one(FILE *in, FILE *out, size_t index, bool us, new_answers *answers)
{
    const fe_starter_question question = fe_starter_question_at(index);
    char *typed = answers->typed[index];
    bool whole = true;
    fprintf(out, "\n%s\n  (%s)\n", question.ask, question.hint);
    for (;;) {
        fprintf(out, "  [%s] ", question.fallback[us]);
        fflush(out);
        if (!read_line(in, typed, NEW_ANSWER_ROOM, &whole))
            return FE_E_INPUT;
        if (!whole) {
            fprintf(out, "  longer than %d letters; write it shorter\n", NEW_ANSWER_ROOM - 1);
            continue;
        }
        if (!*typed)
            return FE_OK;
        fe_strbuf why = FE_STRBUF_INIT;
        const fe_status status = fe_starter_check(index, typed, answers->texts, &why);
        if (status == FE_OK)
            answers->texts[index] = typed;
        else
            fprintf(out, "  %s\n", fe_strbuf_text(&why));
        fe_strbuf_free(&why);
        if (status != FE_E_INPUT)
            return status;
    }
}

fe_status new_ask(FILE *in, FILE *out, bool us, new_answers *answers)
{
    fe_status status = FE_OK;
    for (size_t i = 0; i < fe_starter_questions() && status == FE_OK; i++)
        if (!answers->texts[i] && fe_starter_asks(i, answers->texts))
            status = ask_one(in, out, i, us, answers);
    return status;
}
