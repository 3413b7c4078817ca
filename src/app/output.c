/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/output.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>
#include <unistd.h>

#include "app/command.h"
#include "app/progress.h"
#include "farend/json_text.h"
#include "farend/lines.h"
#include "farend/strbuf.h"
#include "farend/textfile.h"

fe_units output_units(const options *given)
{
    const char *units = options_text(given, "units");
    return units && strcmp(units, "us") == 0 ? FE_UNITS_US : FE_UNITS_METRIC;
}

/* The first that is set rules, as for any program; nothing is set up process-wide. */
static bool speaks_utf8(void)
{
    static const char *const NAMES[] = {"LC_ALL", "LC_CTYPE", "LANG"};
    for (size_t i = 0; i < sizeof NAMES / sizeof NAMES[0]; i++) {
        const char *value = getenv(NAMES[i]);
        if (value && *value) {
            const char *charset = strchr(value, '.');
            return charset &&
                   (strcasecmp(charset, ".UTF-8") == 0 || strcasecmp(charset, ".utf8") == 0);
        }
    }
    return false;
}

fe_status output_made(fe_status made, fe_strbuf *text)
{
    progress_end();
    if (made >= 0)
        fputs(fe_strbuf_text(text), stdout);
    fe_strbuf_free(text);
    return made;
}

fe_status output_text(const fe_document *doc, fe_units units)
{
    const fe_text_options layout = {FE_LINES_WIDTH, units,
                                    isatty(STDOUT_FILENO) && speaks_utf8()};
    fe_strbuf out = FE_STRBUF_INIT;
    return output_made(fe_document_text(doc, &layout, &out), &out);
}

fe_status output_file(const char *who, const char *path, const char *text, size_t length)
{
    progress_end();
    const fe_status status = fe_textfile_write(path, text, length);
    if (status == FE_E_IO)
        options_complain(who, "cannot write %s: %s", path, strerror(errno));
    return status;
}

fe_status output_sheet(const char *who, const options *given, const fe_document *doc)
{
    fe_strbuf html = FE_STRBUF_INIT;
    fe_status status = fe_document_sheet(doc, output_units(given), &html);
    if (status >= 0)
        status =
            output_file(who, options_text(given, "sheet"), fe_strbuf_text(&html), html.length);
    fe_strbuf_free(&html);
    return status;
}

/* Each line of a text by itself; what is too long goes on two columns further in. */
static void lay_out(const char *text, fe_strbuf *out)
{
    fe_strbuf line = FE_STRBUF_INIT;
    for (; *text; text += strspn(text, "\n")) {
        const size_t indent = strspn(text, " ");
        const size_t length = strcspn(text, "\n");
        fe_strbuf_clear(&line);
        fe_strbuf_append_bytes(&line, text + indent, length - indent);
        fe_strbuf_repeat(out, ' ', indent);
        fe_lines_hang(out, fe_strbuf_text(&line), FE_LINES_WIDTH, indent + 2);
        text += length;
    }
    out->failed = out->failed || line.failed;
    fe_strbuf_free(&line);
}

fe_status output_plain(const fe_strbuf *text)
{
    fe_strbuf plain = FE_STRBUF_INIT;
    fe_strbuf lines = FE_STRBUF_INIT;
    const bool utf8 = isatty(STDOUT_FILENO) && speaks_utf8();
    fe_status status = fe_strbuf_status(text);
    if (!utf8)
        fe_amount_to_ascii(fe_strbuf_text(text), &plain);
    if (status == FE_OK)
        status = fe_strbuf_status(&plain);
    lay_out(fe_strbuf_text(utf8 ? text : &plain), &lines);
    if (status == FE_OK)
        status = fe_strbuf_status(&lines);
    fe_strbuf_free(&plain);
    return output_made(status, &lines);
}

static fe_status write_figure(const char *who, const fe_document *doc, size_t index,
                              fe_units units, const char *folder)
{
    fe_strbuf svg = FE_STRBUF_INIT;
    fe_strbuf path = FE_STRBUF_INIT;
    fe_strbuf_format(&path, "%s/%s.svg", folder, fe_document_figure_at(doc, index).id);
    fe_status status = fe_document_figure_svg(doc, index, units, &svg);
    if (status >= 0)
        status = fe_strbuf_status(&path);
    if (status >= 0)
        status = output_file(who, fe_strbuf_text(&path), fe_strbuf_text(&svg), svg.length);
    fe_strbuf_free(&svg);
    fe_strbuf_free(&path);
    return status;
}

static bool has_missing(const fe_document *doc)
{
    for (size_t i = 0; i < fe_document_figures(doc); i++)
        if (fe_document_figure_at(doc, i).reason)
            return true;
    return false;
}

fe_status output_figures(const char *who, const fe_document *doc, const char *folder,
                         fe_units units)
{
    if (mkdir(folder, 0777) != 0 && errno != EEXIST) {
        options_complain(who, "cannot make %s: %s", folder, strerror(errno));
        return FE_E_IO;
    }
    fe_status status = FE_OK;
    for (size_t i = 0; i < fe_document_figures(doc) && status >= 0; i++)
        if (!fe_document_figure_at(doc, i).reason)
            status = write_figure(who, doc, i, units, folder);
    return status >= 0 && has_missing(doc) ? FE_E_EXTERNAL : status;
}

void output_missing(const char *who, const fe_document *doc)
{
    fe_strbuf names = FE_STRBUF_INIT;
    const char *reason = NULL;
    for (size_t i = 0; i < fe_document_figures(doc); i++) {
        const fe_document_figure_view figure = fe_document_figure_at(doc, i);
        if (!figure.reason)
            continue;
        fe_strbuf_format(&names, "%s%s", reason ? ", " : "", figure.id);
        reason = reason ? reason : figure.reason;
    }
    if (reason)
        options_complain(who, "figures missing: %s: %s", fe_strbuf_text(&names), reason);
    fe_strbuf_free(&names);
}

fe_status output_draw(const char *who, fe_status built, fe_figure *figure, fe_document *doc)
{
    fe_status status = built;
    if (built >= 0) {
        fe_gnuplot *gnuplot = fe_gnuplot_new(FE_GNUPLOT_SECONDS);
        status = fe_figure_add(figure, gnuplot, doc);
        fe_gnuplot_free(gnuplot);
    }
    fe_figure_free(figure);
    if (status != FE_E_DOMAIN)
        return status;
    options_complain(who, "warning: --figures: there is nothing to draw");
    return FE_OK;
}

int output_words(const char *who, const options *given, const fe_document *doc)
{
    fe_status status = fe_document_status(doc);
    if (status >= 0)
        status = output_text(doc, output_units(given));
    return status < 0 ? output_failed(who, status) : EXIT_DONE;
}

int output_document(const char *who, const options *given, const fe_document *doc)
{
    const fe_status status = fe_document_status(doc);
    fe_status figures = FE_OK;
    if (status < 0)
        return output_failed(who, status);
    if (options_given(given, "figures")) {
        figures = output_figures(who, doc, options_text(given, "figures"), output_units(given));
        output_missing(who, doc);
    }
    const int drawn = output_ended(who, figures);
    const int code = options_given(given, "json") ? EXIT_DONE : output_words(who, given, doc);
    return drawn == EXIT_DONE ? code : drawn;
}

json_t *output_number(double value)
{
    return isfinite(value) ? json_real(value) : json_null();
}

void output_json_set(json_t **object, const char *key, json_t *value)
{
    if (json_object_set_new(*object, key, value) != 0) {
        json_decref(*object);
        *object = NULL;
    }
}

void output_json_append(json_t **list, json_t *value)
{
    if (json_array_append_new(*list, value) != 0) {
        json_decref(*list);
        *list = NULL;
    }
}

int output_report(const char *who, fe_status made, fe_strbuf *text)
{
    const fe_status status = output_made(made, text);
    return status < 0 ? output_failed(who, status) : EXIT_DONE;
}

int output_json(const char *who, json_t *value, size_t flags)
{
    fe_strbuf out = FE_STRBUF_INIT;
    const int code = output_report(who, fe_json_text(value, flags, &out), &out);
    json_decref(value);
    return code;
}

void output_messages(const fe_messages *messages)
{
    if (!fe_messages_none(messages))
        progress_end();
    for (size_t i = 0; i < messages->count; i++)
        fprintf(stderr, "%s\n", messages->items[i].text);
    if (messages->dropped > 0)
        fprintf(stderr, "and %zu more\n", messages->dropped);
}

int output_failed(const char *who, fe_status status)
{
    options_complain(who, "%s", fe_status_text(status));
    return command_exit_code(status);
}

int output_ended(const char *who, fe_status status)
{
    const bool told = status == FE_E_INPUT || status == FE_E_IO || status == FE_E_EXTERNAL;
    return status < 0 && !told ? output_failed(who, status) : command_exit_code(status);
}
