/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The program where the world fails: disk, folder, reader, gnuplot, signals, an environment
 * without the usual. The work fails with exit 1 and one line, an earlier report stays as it
 * was, and no temporary is left.
 */
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <locale.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "clock.h"
#include "farend/plan.h"
#include "farend/report.h"
#include "farend/result.h"
#include "farend/textfile.h"
#include "run.h"
#include "testing.h"

extern char **environ;

static const char FOLDER[] = "test_faults_folder";
static const char EARLIER[] = "an earlier report\n";

/* Two ends and a distance: a report of it takes a moment. */
static const char PLAN[] = "[site]\nregion = UK\nbands = 2.4 GHz\n"
                           "[end house]\ngear = outdoor-access-point\nheight = 4 m\n"
                           "[end shed]\ngear = outdoor-access-point\nheight = 3 m\n"
                           "[path way]\ndistance = 150 m\n";

/* ---- The folder ---- */

static void write_file(const char *name, const char *text)
{
    char path[200];
    snprintf(path, sizeof path, "%s/%s", FOLDER, name);
    assert_int_equal(fe_textfile_write(path, text, strlen(text)), FE_OK);
}

static char *read_file(const char *name)
{
    return fe_testing_read_in(FOLDER, name);
}

static void remove_all(void)
{
    DIR *folder = opendir(FOLDER);
    assert_non_null(folder);
    for (struct dirent *entry; (entry = readdir(folder));) {
        char path[400];
        snprintf(path, sizeof path, "%s/%s", FOLDER, entry->d_name);
        if (entry->d_name[0] != '.')
            remove(path);
    }
    closedir(folder);
}

/* Nothing lies there but plan.ini, page.html and names that begin with one more word. */
static void assert_no_temporary(const char *allowed)
{
    DIR *folder = opendir(FOLDER);
    assert_non_null(folder);
    for (struct dirent *entry; (entry = readdir(folder));) {
        const char *name = entry->d_name;
        if (name[0] != '.' && strcmp(name, "plan.ini") != 0 && strcmp(name, "page.html") != 0 &&
            strncmp(name, allowed, strlen(allowed)) != 0)
            fail_msg("%s was left behind", name);
    }
    closedir(folder);
}

static int set_up(void **state)
{
    (void)state;
    mkdir(FOLDER, 0777);
    remove_all();
    write_file("plan.ini", PLAN);
    write_file("page.html", EARLIER);
    return 0;
}

static int tear_down(void **state)
{
    (void)state;
    remove_all();
    return 0;
}

/* ---- Running ---- */

static size_t lines_of(const char *text)
{
    size_t count = 0;
    for (; *text; text++)
        count += *text == '\n';
    return count;
}

static char *runs(const char *const argv[], int wanted_code, char **err)
{
    return fe_testing_runs_in(FOLDER, argv, wanted_code, err);
}

/* The work fails with one line that says this, and the earlier page is as it was. */
static void assert_fails(const char *const argv[], const char *wanted)
{
    char *err = NULL;
    free(runs(argv, 1, &err));
    if (lines_of(err) != 1 || !strstr(err, wanted))
        fail_msg("wanted one line with \"%s\", got:\n%s", wanted, err);
    char *page = read_file("page.html");
    assert_string_equal(page, EARLIER);
    free(page);
    free(err);
    assert_no_temporary("page.html");
}

#define REPORT_TO(path)                                                                        \
    (const char *[])                                                                           \
    {                                                                                          \
        "report", "plan.ini", "--html", path, "--json", NULL                                   \
    }

/* ---- Disk and folders ---- */

static void report__onto_a_full_disk_keeps_the_earlier_one(void **state)
{
    (void)state;
    struct rlimit before;
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &before), 0);
    const struct rlimit small = {4096, before.rlim_max};
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &small), 0);
    char *err = NULL;
    char *out = NULL;
    int code = 0;
    fe_testing_run_in(FOLDER, REPORT_TO("page.html"), &out, &err, &code);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &before), 0);
    if (code != 1 || !strstr(err, "cannot write page.html: File too large"))
        fail_msg("exit %d: %s", code, err);
    assert_int_equal(lines_of(err), 1);
    free(err);
    free(out);
    char *page = read_file("page.html");
    assert_string_equal(page, EARLIER);
    free(page);
    assert_no_temporary("page.html");
}

static void report__onto_a_full_device_fails(void **state)
{
    (void)state;
    assert_fails(REPORT_TO("/dev/full"), "cannot write /dev/full: No space left on device");
}

static void report__into_a_folder_that_takes_nothing_fails(void **state)
{
    (void)state;
    assert_fails(REPORT_TO("no/such/folder/page.html"),
                 "cannot write no/such/folder/page.html");
    assert_fails(REPORT_TO("/proc/page.html"), "cannot write /proc/page.html");
    if (geteuid() == 0)
        return; /* no folder is closed to root */
    assert_int_equal(chmod(FOLDER, 0555), 0);
    assert_fails(REPORT_TO("page.html"), "cannot write page.html: Permission denied");
    assert_int_equal(chmod(FOLDER, 0777), 0);
}

static void report__onto_a_folder_fails(void **state)
{
    (void)state;
    assert_fails(REPORT_TO("."), "cannot write .: Is a directory");
    assert_fails(
        (const char *[]){"report", "plan.ini", "--json", "--figures", "page.html", NULL},
        "cannot write page.html/");
    assert_fails((const char *[]){"new", ".", "--force", "--distance", "100 m", NULL},
                 "cannot write .: Is a directory");
}

/* Root may write there all the same, so the bits of the earlier file are looked at instead. */
static void report__gets_the_rights_that_a_new_file_gets(void **state)
{
    (void)state;
    struct stat about;
    const mode_t before = umask(027);
    free(runs(REPORT_TO("page.html"), 0, NULL));
    umask(before);
    assert_int_equal(stat("test_faults_folder/page.html", &about), 0);
    assert_int_equal(about.st_mode & 0777, 0640);
}

/* ---- What is no file ---- */

static void pipe_or_device__is_refused_at_once(void **state)
{
    (void)state;
    static const char CSV[] = "[site]\nregion = UK\n[end a]\n[end b]\n"
                              "[path way]\nprofile = pipe.csv\n";
    char *err = NULL;
    assert_int_equal(mkfifo("test_faults_folder/pipe.csv", 0600), 0);
    write_file("piped.ini", CSV);
    free(runs((const char *[]){"report", "pipe.csv", NULL}, 2, &err));
    assert_non_null(strstr(err, "pipe.csv: cannot read the file: not a regular file"));
    free(err);
    free(runs((const char *[]){"report", "piped.ini", "--json", NULL}, 2, &err));
    assert_non_null(strstr(err, "pipe.csv: cannot read the profile: not a regular file"));
    free(err);
    free(runs((const char *[]){"report", "/dev/zero", NULL}, 2, &err));
    assert_non_null(strstr(err, "/dev/zero: cannot read the file: not a regular file"));
    free(err);
    free(runs((const char *[]){"calc", "free-space", "--cases", "pipe.csv", NULL}, 2, &err));
    assert_non_null(strstr(err, "not a regular file"));
    free(err);
}

/* ---- Who reads ---- */

static void output__that_nobody_takes_ends_with_1(void **state)
{
    (void)state;
    static const char *const LINES[][4] = {
        {"report", "test_faults_folder/plan.ini", "--json", NULL},
        {"radio", "test_faults_folder/plan.ini", NULL},
    };
    for (size_t i = 0; i < 2; i++) {
        char *err = NULL;
        assert_int_equal(fe_testing_run_into("/dev/full", LINES[i], &err), 1);
        assert_non_null(strstr(err, "cannot write the output: "));
        assert_int_equal(lines_of(err), 1);
        free(err);
        assert_int_equal(fe_testing_run_into(NULL, LINES[i], &err), 1);
        assert_int_equal(lines_of(err), 1);
        free(err);
    }
    char *page = read_file("page.html");
    assert_string_equal(page, EARLIER);
    free(page);
}

typedef struct started {
    pid_t pid;
    int err;
} started;

/* Starts the program in the folder with stdout on a descriptor, and does not wait. */
static started start(const char *const argv[], int out)
{
    int ends[2];
    char *words[8] = {NULL};
    char program[] = FAREND_PROGRAM;
    words[0] = program;
    for (size_t i = 0; argv[i]; i++)
        words[i + 1] = strdup(argv[i]);
    assert_int_equal(pipe(ends), 0);
    const pid_t pid = fork();
    assert_true(pid >= 0);
    if (pid == 0) {
        if (dup2(out, 1) != 1 || dup2(ends[1], 2) != 2 || chdir(FOLDER) != 0)
            _exit(127);
        close(ends[0]);
        close(ends[1]);
        execv(program, words);
        _exit(127);
    }
    close(ends[1]);
    for (size_t i = 1; words[i]; i++)
        free(words[i]);
    return (started){pid, ends[0]};
}

/* How it ended, and what it said. */
static int finish(started run, char said[1000])
{
    size_t length = 0;
    int state = 0;
    for (ssize_t count;
         length < 999 && (count = read(run.err, said + length, 999 - length)) > 0;)
        length += (size_t)count;
    said[length] = 0;
    close(run.err);
    assert_int_equal(waitpid(run.pid, &state, 0), run.pid);
    return WIFSIGNALED(state) ? 128 + WTERMSIG(state) : WEXITSTATUS(state);
}

static void output__to_a_reader_that_left_ends_with_1(void **state)
{
    (void)state;
    int ends[2];
    char said[1000];
    assert_int_equal(pipe(ends), 0);
    close(ends[0]);
    const started run = start((const char *[]){"report", "plan.ini", "--json", NULL}, ends[1]);
    close(ends[1]);
    assert_int_equal(finish(run, said), 1);
    assert_non_null(strstr(said, "cannot write the output: "));
}

/* ---- gnuplot ---- */

/* A program of this name that does what the script says, first on PATH. */
static char *put_gnuplot(const char *script)
{
    const char *path = getenv("PATH");
    char *kept = strdup(path ? path : "");
    char here[400], joined[4400];
    assert_non_null(kept);
    assert_non_null(getcwd(here, sizeof here));
    write_file("gnuplot", script);
    assert_int_equal(chmod("test_faults_folder/gnuplot", 0700), 0);
    snprintf(joined, sizeof joined, "%s/%s:%.3500s", here, FOLDER, kept);
    setenv("PATH", joined, 1);
    return kept;
}

/* The report comes, names what is missing, and costs no more than the time for one figure. */
static void assert_report_without_figures(const char *script, const char *reason)
{
    char *err = NULL;
    char *path = put_gnuplot(script);
    const double start_s = seconds(CLOCK_MONOTONIC);
    char *out =
        runs((const char *[]){"report", "plan.ini", "--html", "page.html", NULL}, 0, &err);
    const double took_s = seconds(CLOCK_MONOTONIC) - start_s;
    setenv("PATH", path, 1);
    free(path);
    assert_non_null(strstr(out, "Figure missing: "));
    if (!strstr(err, "figures missing: margin") || !strstr(err, reason))
        fail_msg("wanted \"%s\", got: %s", reason, err);
    assert_int_equal(lines_of(err), 1);
    assert_true(took_s < FE_GNUPLOT_SECONDS + 20.0);
    char *page = read_file("page.html");
    assert_non_null(strstr(page, "This figure is missing"));
    assert_non_null(strstr(page, "</html>"));
    free(page);
    free(out);
    free(err);
}

static void report__comes_whatever_gnuplot_does(void **state)
{
    (void)state;
    assert_report_without_figures("#!/bin/sh\nexit 3\n", "gnuplot ended without a figure");
    assert_report_without_figures("#!/bin/sh\nread line\nkill -SEGV $$\n", "gnuplot ended");
    assert_report_without_figures("#!/bin/sh\necho '<svg><script>alert(1)</script></svg>'\n"
                                  "printf '\\nfarend: end of figure\\n'\nexec cat >/dev/null\n",
                                  "gnuplot wrote something that is no drawing");
    /* Once only: this one takes the whole time that a figure gets. */
    assert_report_without_figures("#!/bin/sh\nwhile read line; do :; done\n",
                                  "gnuplot took longer than");
}

/* ---- Signals ---- */

static void sleep_ms(long ms)
{
    const struct timespec moment = {ms / 1000, 1000000 * (ms % 1000)};
    nanosleep(&moment, NULL);
}

/* The process whose number gnuplot wrote ends within some seconds. */
static void assert_gnuplot_is_gone(void)
{
    char *text = read_file("reached");
    const pid_t pid = (pid_t)atol(text);
    free(text);
    assert_true(pid > 1);
    for (int tries = 0; kill(pid, 0) == 0; tries++) {
        /* Gone, but nobody has fetched its last word. */
        char name[60], line[200] = "";
        snprintf(name, sizeof name, "/proc/%ld/stat", (long)pid);
        FILE *stat = fopen(name, "r");
        const bool dead = stat && fgets(line, sizeof line, stat) && strstr(line, ") Z ");
        if (stat)
            fclose(stat);
        if (dead)
            return;
        if (tries == 1000)
            fail_msg("gnuplot still runs: %s", line);
        sleep_ms(10);
    }
}

/* gnuplot says that it was reached, keeps the report waiting, and outlives its input. */
static void signal_while_drawing__leaves_the_earlier_report_and_no_gnuplot(void **state)
{
    (void)state;
    static const int SIGNALS[] = {SIGTERM, SIGINT, SIGHUP};
    char *path = put_gnuplot("#!/bin/sh\necho $$ >part\nmv part reached\n"
                             "while :; do sleep 60; done\n");
    const int nowhere = open("/dev/null", O_WRONLY);
    for (size_t i = 0; i < sizeof SIGNALS / sizeof SIGNALS[0]; i++) {
        char said[1000];
        unlink("test_faults_folder/reached");
        const started run = start(REPORT_TO("page.html"), nowhere);
        for (int tries = 0; access("test_faults_folder/reached", F_OK) != 0; tries++) {
            assert_true(tries < 3000);
            sleep_ms(10);
        }
        assert_int_equal(kill(run.pid, SIGNALS[i]), 0);
        assert_int_equal(finish(run, said), 1);
        assert_string_equal(said, "farend: stopped by a signal\n");
        assert_gnuplot_is_gone();
        char *page = read_file("page.html");
        assert_string_equal(page, EARLIER);
        free(page);
    }
    close(nowhere);
    setenv("PATH", path, 1);
    free(path);
    unlink("test_faults_folder/reached");
    assert_no_temporary("gnuplot");
}

/* Whenever it comes, the page is the earlier one or the whole new one. */
static void signal_at_any_moment__leaves_a_whole_page(void **state)
{
    (void)state;
    const int nowhere = open("/dev/null", O_WRONLY);
    char said[1000];
    const double start_s = seconds(CLOCK_MONOTONIC);
    assert_int_equal(finish(start(REPORT_TO("page.html"), nowhere), said), 0);
    const double whole_ms = 1e3 * (seconds(CLOCK_MONOTONIC) - start_s);
    for (int i = 1; i <= 16; i++) {
        write_file("page.html", EARLIER);
        const started run = start(REPORT_TO("page.html"), nowhere);
        /* Most of them near the end, where the page is written. */
        sleep_ms((long)(whole_ms * (i < 5 ? 0.2 * i : 0.8 + 0.025 * (i - 4))));
        kill(run.pid, SIGTERM);
        const int code = finish(run, said);
        /* 143: the signal came before main. */
        assert_true(code == 0 || code == 1 || code == 128 + SIGTERM);
        char *page = read_file("page.html");
        const size_t length = strlen(page);
        if (strcmp(page, EARLIER) != 0 &&
            (length < 8 || strcmp(page + length - 8, "</html>\n") != 0))
            fail_msg("a torn page of %zu bytes", length);
        free(page);
        assert_no_temporary("page.html");
    }
    close(nowhere);
}

/* ---- Environment ---- */

static char *json_in(char *variables[])
{
    char **kept = environ;
    environ = variables;
    char *json = runs((const char *[]){"report", "plan.ini", "--json", NULL}, 0, NULL);
    environ = kept;
    return json;
}

static void report__is_the_same_in_a_bare_environment(void **state)
{
    (void)state;
    char path[] = "PATH=/usr/local/bin:/usr/bin:/bin", profiles[2000], home[] = "HOME=/proc",
         language[] = "LC_ALL=de_DE.UTF-8", locales[700], here[400];
    assert_non_null(getcwd(here, sizeof here));
    snprintf(profiles, sizeof profiles, "FAREND_PROFILES=%s/profiles", FAREND_SOURCE_DIR);
    snprintf(locales, sizeof locales, "LOCPATH=%s", here);
    char *usual = json_in(environ);
    char *bare = json_in((char *[]){path, profiles, NULL});
    char *other = json_in((char *[]){path, profiles, home, language, locales, NULL});
    assert_string_equal(bare, usual);
    assert_string_equal(other, usual);
    free(usual);
    free(bare);
    free(other);
}

/* German numbers have a comma; made here, since few machines have that locale at hand. */
static bool make_comma_locale(void)
{
    char here[400];
    int state = 0;
    const pid_t pid = fork();
    if (pid == 0) {
        execlp("localedef", "localedef", "--quiet", "-i", "de_DE", "-f", "UTF-8",
               "./de_DE.UTF-8", (char *)NULL);
        _exit(127);
    }
    if (pid < 0 || waitpid(pid, &state, 0) != pid || !getcwd(here, sizeof here))
        return false;
    setenv("LOCPATH", here, 1);
    return setlocale(LC_ALL, "de_DE.UTF-8") != NULL;
}

/* Everything a report is made of, in this process. */
static void make_report(fe_strbuf *out)
{
    const fe_plan_places places = {.environment = FAREND_SOURCE_DIR "/profiles"};
    const fe_text_options layout = {80, FE_UNITS_US, false};
    fe_messages messages = {0};
    fe_plan plan;
    fe_result result;
    fe_document *doc = NULL;
    assert_int_equal(
        fe_plan_read(FAREND_SOURCE_DIR "/examples/lambing-shed.ini", &places, &plan, &messages),
        FE_OK);
    assert_true(fe_decide(&plan, &result) >= 0);
    fe_gnuplot *gnuplot = fe_gnuplot_new(FE_GNUPLOT_SECONDS);
    assert_true(fe_report_document(&result, gnuplot, FE_UNITS_METRIC, &doc) >= 0);
    assert_int_equal(fe_report_json(&result, doc, out), FE_OK);
    assert_int_equal(fe_document_text(doc, &layout, out), FE_OK);
    assert_int_equal(fe_document_html(doc, FE_UNITS_METRIC, out), FE_OK);
    fe_gnuplot_free(gnuplot);
    fe_document_free(doc);
    fe_result_free(&result);
    fe_plan_free(&plan);
    fe_messages_free(&messages);
}

static void report__is_the_same_where_numbers_have_a_comma(void **state)
{
    (void)state;
    fe_strbuf usual = FE_STRBUF_INIT;
    fe_strbuf comma = FE_STRBUF_INIT;
    char number[16];
    make_report(&usual);
    if (!make_comma_locale())
        fail_msg("localedef (Debian: locales) made no locale with a decimal comma");
    snprintf(number, sizeof number, "%.1f", 0.5);
    assert_string_equal(number, "0,5");
    make_report(&comma);
    setlocale(LC_ALL, "C");
    assert_string_equal(fe_strbuf_text(&comma), fe_strbuf_text(&usual));
    fe_strbuf_free(&usual);
    fe_strbuf_free(&comma);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(report__onto_a_full_disk_keeps_the_earlier_one, set_up,
                                        tear_down),
        cmocka_unit_test_setup_teardown(report__onto_a_full_device_fails, set_up, tear_down),
        cmocka_unit_test_setup_teardown(report__into_a_folder_that_takes_nothing_fails, set_up,
                                        tear_down),
        cmocka_unit_test_setup_teardown(report__onto_a_folder_fails, set_up, tear_down),
        cmocka_unit_test_setup_teardown(report__gets_the_rights_that_a_new_file_gets, set_up,
                                        tear_down),
        cmocka_unit_test_setup_teardown(pipe_or_device__is_refused_at_once, set_up, tear_down),
        cmocka_unit_test_setup_teardown(output__that_nobody_takes_ends_with_1, set_up,
                                        tear_down),
        cmocka_unit_test_setup_teardown(output__to_a_reader_that_left_ends_with_1, set_up,
                                        tear_down),
        cmocka_unit_test_setup_teardown(report__comes_whatever_gnuplot_does, set_up, tear_down),
        cmocka_unit_test_setup_teardown(
            signal_while_drawing__leaves_the_earlier_report_and_no_gnuplot, set_up, tear_down),
        cmocka_unit_test_setup_teardown(signal_at_any_moment__leaves_a_whole_page, set_up,
                                        tear_down),
        cmocka_unit_test_setup_teardown(report__is_the_same_where_numbers_have_a_comma, set_up,
                                        tear_down),
        cmocka_unit_test_setup_teardown(report__is_the_same_in_a_bare_environment, set_up,
                                        tear_down),
    };
    return FE_RUN_TESTS(tests);
}
