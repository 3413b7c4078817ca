/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The man page and the completions, by the programs that they are for. tests/run.sh installs
 * these. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>

#include "farend/textfile.h"
#include "run.h"
#include "testing.h"

enum { LINE_ROOM = 600, ANSWER_ROOM = 4000 };

/* What a shell line prints on both streams; returns its exit code. */
static int says(const char *line, char answer[ANSWER_ROOM])
{
    FILE *from = popen(line, "r");
    assert_non_null(from);
    answer[fread(answer, 1, ANSWER_ROOM - 1, from)] = 0;
    const int state = pclose(from);
    return WIFEXITED(state) ? WEXITSTATUS(state) : 128;
}

static void needs(const char *program)
{
    char line[LINE_ROOM], answer[ANSWER_ROOM];
    snprintf(line, sizeof line, "command -v %s", program);
    if (says(line, answer) != 0)
        fail_msg("%s is not there: `sh tests/run.sh` installs it", program);
}

/* Writes what the program makes of itself to a file. */
static void make(const char *const argv[], const char *name)
{
    char *text = fe_testing_runs_in(NULL, argv, 0, NULL);
    assert_int_equal(fe_textfile_write(name, text, strlen(text)), FE_OK);
    free(text);
}

/* Each line is run, and must end well and print these words and nothing else. */
static void prints(const char *line, const char *wanted)
{
    char answer[ANSWER_ROOM];
    const int code = says(line, answer);
    if (code != 0 || strcmp(answer, wanted) != 0)
        fail_msg("%s\nexit %d, printed:\n%s\nwanted:\n%s", line, code, answer, wanted);
}

static void man_page__is_taken_without_a_warning(void **state)
{
    (void)state;
    needs("groff");
    make((const char *[]){"--man", NULL}, "test_shells.1");
    prints("groff -man -ww -Tutf8 test_shells.1 2>&1 >/dev/null", "");
}

/* Completes the last of the words of a line, one candidate a line. */
static void bash_offers(const char *words, int last, const char *wanted)
{
    char line[LINE_ROOM];
    snprintf(line, sizeof line,
             "bash --norc -c 'source ./test_shells.bash; compopt() { :; }; COMP_WORDS=(%s); "
             "COMP_CWORD=%d; _farend; printf \"%%s\\n\" \"${COMPREPLY[@]}\"' 2>&1",
             words, last);
    prints(line, wanted);
}

static void bash__offers_what_help_lists(void **state)
{
    (void)state;
    needs("bash");
    make((const char *[]){"--completion", "bash", NULL}, "test_shells.bash");
    prints("bash -n test_shells.bash 2>&1", "");
    bash_offers("farend re", 1, "report\nrelays\n");
    bash_offers("farend report --u", 2, "--units\n");
    bash_offers("farend report --units \"\"", 3, "metric\nus\n");
    bash_offers("farend report --units = m", 4, "metric\n");
    bash_offers("farend report --units =", 3, "metric\nus\n");
    bash_offers("farend posts --below t", 3, "tall\\ machines\n");
    bash_offers("farend calc free-space d", 3, "distance=\n");
    bash_offers("farend calc free-space distance =", 4, "\n");
    bash_offers("farend --completion \"\"", 2, "bash\nzsh\nfish\n");
}

static void zsh__takes_the_script(void **state)
{
    (void)state;
    needs("zsh");
    make((const char *[]){"--completion", "zsh", NULL}, "test_shells.zsh");
    prints("zsh -n test_shells.zsh 2>&1", "");
}

static void fish_offers(const char *line, const char *wanted)
{
    char whole[LINE_ROOM];
    snprintf(whole, sizeof whole,
             "HOME=. XDG_DATA_HOME=. XDG_CONFIG_HOME=. fish -N -c 'source test_shells.fish; "
             "complete -C \"%s\"' 2>&1 | cut -f 1",
             line);
    prints(whole, wanted);
}

static void fish__offers_what_help_lists(void **state)
{
    (void)state;
    needs("fish");
    make((const char *[]){"--completion", "fish", NULL}, "test_shells.fish");
    prints("fish --no-execute test_shells.fish 2>&1", "");
    fish_offers("farend re", "relays\nreport\n");
    fish_offers("farend report --units ", "metric\nus\n");
    fish_offers("farend posts --below t", "tall machines\n");
    fish_offers("farend calc free-space d", "distance=\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(man_page__is_taken_without_a_warning),
        cmocka_unit_test(bash__offers_what_help_lists),
        cmocka_unit_test(zsh__takes_the_script),
        cmocka_unit_test(fish__offers_what_help_lists),
    };
    return FE_RUN_TESTS(tests);
}
