# SPDX-License-Identifier: GPL-3.0-or-later
"""Changes the physics in small ways and looks whether a test notices.

usage: python3 tests/mutants/mutants.py [COUNT [SHIFT]]
       python3 tests/mutants/mutants.py again
       python3 tests/mutants/mutants.py known

Takes COUNT places (200 where none is given) at even steps over src/propagation and src/wired,
and at each swaps an operator or moves a constant by a tenth; SHIFT, from 0 to 0.99 of a step,
gives other places (0.5 where none is given). "again" tries those that survived the last run.
Each change is one object in a shared library, held against the tests that know the module, the
quickest first, until one fails. As many at a time as there are processors. Prints what
survived; exit 1 where fewer than 90 % were noticed. Only the Python that Debian installs and the
packages of tests/run.sh are needed.

"known" is short enough for each time: it takes the places of tests/mutants/known.txt, which is
.build/mutants/log.txt of a run before, and asks of each only the test that noticed it then.
Those that survived count so, unasked; those whose line is gone do not count, and where fewer
than 200 are left it fails, too: the file wants a new run.
"""
import concurrent.futures
import functools
import json
import os
import pathlib
import queue
import re
import shlex
import shutil
import subprocess
import sys
import threading

HERE = pathlib.Path(__file__).resolve().parents[2]
WORK = HERE / ".build" / "mutants"
BUILD = WORK / "build"
ROOMS = ["propagation", "wired"]
KNOWN = HERE / "tests" / "mutants" / "known.txt"
GOAL, LEAST_KNOWN = 0.9, 200
SURVIVED, NO_BUILD = "SURVIVED", "no build"
# Fails where the machine is busy: it holds the time of a start against another's.
TIMED = {"test_libraries"}
# Longest that a test may take unchanged, in processor time, by Tests.distance.
SLOWEST_S = [60.0, 60.0, 30.0, 3.0, 1.0]
# Asked however far and slow they are: they hold what all modules together answer.
WHOLE = {"test_golden", "test_variants"}

SWAPS = {
    "+": "-", "-": "+", "*": "/", "/": "*", "<": ">=", ">": "<=", "<=": ">", ">=": "<",
    "==": "!=", "!=": "==", "&&": "||", "||": "&&", "+=": "-=", "-=": "+=", "*=": "/=",
    "/=": "*=", "fmin(": "fmax(", "fmax(": "fmin(", "sin(": "cos(", "cos(": "sin(",
    "log10(": "log(", "sqrt(": "fabs(",
}
# Operators stand between blanks, as clang-format leaves them; functions stand as words.
SITE = re.compile(
    r"(?<= )(?:[-+*/]=?|[<>]=?|==|!=|&&|\|\|)(?= )"
    r"|\b(?:fmin|fmax|sin|cos|log10|sqrt)\("
    r"|(?<![\w.])\d+\.\d+(?:e[-+]?\d+)?(?![\w.])|(?<![\w.])\d+e[-+]?\d+(?![\w.])")


def without_text(source):
    """The source with comments, strings and preprocessor lines blanked, of the same length."""
    blank = lambda match: re.sub(r"[^\n]", " ", match.group(0))
    source = re.sub(r"/\*.*?\*/", blank, source, flags=re.S)
    source = re.sub(r'"(?:\\.|[^"\\\n])*"', blank, source)
    return re.sub(r"^#.*(?:\\\n.*)*", blank, source, flags=re.M)


def sites():
    for room in ROOMS:
        for path in sorted((HERE / "src" / room).glob("*.c")):
            for match in SITE.finditer(without_text(text_of(path))):
                yield path, match.start(), match.group(0)


def chosen(every, count, shift):
    step = len(every) / count
    return [every[int((k + shift) * step)] for k in range(count)]


text_of = functools.cache(pathlib.Path.read_text)


def described(path, at, word):
    source = text_of(path)
    line = source.count("\n", 0, at)
    return (f"{path.relative_to(HERE)}:{line + 1}: {word} -> {replacement(word)}: "
            f"{source.splitlines()[line].strip()}")


def lasting_names():
    """Every place by a name that other lines may move: which of those that read the same in the
    file it is stands in the place of the line's number."""
    count, names = {}, {}
    for place in sites():
        text = re.sub(r":\d+: ", ": ", described(*place), count=1)
        count[text] = count.get(text, 0) + 1
        names[f"{text} #{count[text]}"] = place
    return names


def logged(file):
    """Of each place in a log who noticed it, by its lasting name."""
    return dict(reversed(line.rstrip("\n").split(" | ", 1)) for line in open(file))


def replacement(word):
    if word in SWAPS:
        return SWAPS[word]
    value = float(word)
    return repr(value * 1.1 if value else 0.1)


# ---- Which tests know a module ----

def includes(path, folder):
    """Modules whose headers it includes; those of tests/support have no folder."""
    return set(re.findall(rf'#include "(?:\w+/){folder}(\w+)\.h"', path.read_text()))


class Tests:
    """The test programs, how long each takes unchanged, and how often each noticed."""

    def __init__(self):
        self.sources = {path.stem: includes(path, "") for path in (HERE / "tests").glob("*.c")
                        if path.stem not in TIMED}
        within = {path.stem: includes(path, "?") for path in (HERE / "src").glob("*/*.h")}
        self.users = {}
        for path in (HERE / "src").glob("*/*.c"):
            uses = includes(path, "?")
            self.users[path.stem] = uses.union(*(within.get(header, ()) for header in uses))
        self.headers = {path.stem for room in ("include/farend", "src/*")
                        for path in HERE.glob(f"{room}/*.h")}
        self.seconds = {}
        self.noticed = {}

    def try_unchanged(self, names, modules):
        """Without a change all must pass; what cannot, in a shared library, is left out, and so
        is what takes longer than any of these modules would wait for it."""
        longest_s = {name: max(self.longest_s(name, module) for module in modules)
                     for name in names}

        def one(name):
            return name, *run_test(name, WORK / "unchanged" / name, BUILD, longest_s[name])

        with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
            for name, good, seconds in pool.map(one, names):
                if good:
                    self.seconds[name] = seconds
                elif longest_s[name] > SLOWEST_S[-1]:
                    print(f"left out: {name} fails unchanged or takes too long", flush=True)

    def distance(self, test, module):
        """0 the module's own test, 1 includes it, 2 and 3 includes a user of it, else 4."""
        if test in (f"test_{module}", f"reference_{module}"):
            return 0
        known = self.sources[test]
        # What has no header of its own is declared in one that it includes.
        near = {module} if module in self.headers else set(self.users[module])
        for steps in (1, 2, 3):
            if known & near:
                return steps
            near |= {user for user, uses in self.users.items() if uses & near}
        return 4

    def longest_s(self, test, module):
        return SLOWEST_S[0 if test in WHOLE else self.distance(test, module)]

    def of(self, module):
        order = lambda test: (self.distance(test, module), -self.noticed.get((test, module), 0),
                              self.seconds[test])
        known = [test for test, seconds in self.seconds.items()
                 if seconds <= self.longest_s(test, module)]
        return sorted(known, key=order)

    def count(self, test, module):
        self.noticed[test, module] = self.noticed.get((test, module), 0) + 1


# ---- Building and running ----

def run_test(name, folder, library, seconds):
    """Whether it passes within so many seconds of processor time, and how many it took."""
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    words = dict(os.environ, LD_LIBRARY_PATH=str(library), FAREND_PROFILES=str(HERE / "profiles"))
    running = subprocess.Popen(
        ["prlimit", f"--cpu={int(seconds) + 1}", str(BUILD / "tests" / name)], cwd=folder,
        env=words, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL, start_new_session=True)
    # One that waits for nothing takes no processor time.
    alarm = threading.Timer(60.0 + 20.0 * seconds, os.killpg, (running.pid, 9))
    alarm.start()
    _, status, usage = os.wait4(running.pid, 0)
    alarm.cancel()
    running.returncode = os.waitstatus_to_exitcode(status)
    return running.returncode == 0, usage.ru_utime + usage.ru_stime


def prepare(tests):
    """Built once: one shared library, and the tests of these names that link it; all of them
    where none is named."""
    environment = dict(os.environ, LD_LIBRARY_PATH=str(BUILD))
    BUILD.mkdir(parents=True, exist_ok=True)
    log = open(WORK / "build.log", "w")
    for words in (["cmake", "-S", str(HERE), "-B", str(BUILD), "-G", "Unix Makefiles",
                   "-DCMAKE_BUILD_TYPE=None", "-DCMAKE_C_FLAGS=-O1", "-DBUILD_SHARED_LIBS=ON",
                   "-DCMAKE_SKIP_RPATH=ON", "-DCMAKE_EXPORT_COMPILE_COMMANDS=ON",
                   "-DFAREND_GDAL=OFF"],
                  ["cmake", "--build", str(BUILD), "--parallel", str(os.cpu_count()),
                   *(["--target", *tests] if tests else [])]):
        if subprocess.run(words, stdout=log, stderr=log, env=environment).returncode != 0:
            sys.exit(f"mutants: the source does not build, see {WORK / 'build.log'}")
    commands = json.loads((BUILD / "compile_commands.json").read_text())
    compile_of = {one["file"]: shlex.split(one["command"]) for one in commands}
    link = shlex.split((BUILD / "CMakeFiles" / "farend.dir" / "link.txt").read_text())
    return compile_of, link


class Changer:
    """One of those that work side by side: its own changed object and library."""

    def __init__(self, folder, compile_of, link):
        self.folder, self.compile_of, self.link = folder, compile_of, link
        self.folder.mkdir(parents=True, exist_ok=True)

    def build(self, path, text):
        changed, made = self.folder / "changed.c", self.folder / "changed.o"
        changed.write_text(text)
        words = list(self.compile_of[str(path)])
        # The last words are: -o OBJECT -c SOURCE
        at = words.index("-o") + 1
        plain, words[at] = words[at], str(made)
        words[words.index(str(path))] = str(changed)
        words.insert(1, f"-iquote{path.parent}")
        link = [str(made) if word == plain else word for word in self.link]
        link[link.index("-o") + 1] = str(self.folder / "libfarend.so")
        return all(subprocess.run(one, cwd=BUILD, stdout=subprocess.DEVNULL,
                                  stderr=subprocess.DEVNULL).returncode == 0
                   for one in (words, link))

    def change(self, path, at, word):
        source = text_of(path)
        return self.build(path, source[:at] + replacement(word) + source[at + len(word):])

    def notices(self, tests, test):
        longest_s = 5.0 + 5.0 * tests.seconds[test]
        return not run_test(test, self.folder / "run", self.folder, longest_s)[0]

    def killer(self, tests, path, at, word):
        """The test that notices, or SURVIVED; NO_BUILD where the change does not compile."""
        if not self.change(path, at, word):
            return NO_BUILD
        for test in tests.of(path.stem):
            if self.notices(tests, test):
                tests.count(test, path.stem)
                return test
        return SURVIVED

    def noticed_by(self, tests, test, path, at, word):
        """The same of one test alone."""
        if test in tests.seconds and self.change(path, at, word) and self.notices(tests, test):
            return test
        return SURVIVED


def judge(verdicts):
    """Prints how many were noticed; the exit status."""
    noticed = sum(verdict != SURVIVED for verdict in verdicts)
    print(f"mutants: {noticed} of {len(verdicts)} noticed")
    return 0 if noticed >= GOAL * len(verdicts) else 1


def side_by_side(compile_of, link, places, killer):
    """killer(changer, place) for each place, on all processors; yields place and answer."""
    free = queue.SimpleQueue()
    for k in range(os.cpu_count()):
        free.put(Changer(WORK / f"changer-{k}", compile_of, link))

    def one(place):
        changer = free.get()
        try:
            return place, killer(changer, place)
        finally:
            free.put(changer)

    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        for done in concurrent.futures.as_completed([pool.submit(one, place)
                                                     for place in places]):
            yield done.result()


def search(places, names):
    """All tests, until one notices."""
    compile_of, link = prepare([])
    tests = Tests()
    tests.try_unchanged(sorted(tests.sources), {place[0].stem for place in places})
    name_of = {place: name for name, place in names.items()}
    verdicts = []
    with open(WORK / "log.txt", "w") as log:
        for place, test in side_by_side(compile_of, link, places,
                                        lambda changer, place: changer.killer(tests, *place)):
            if test == NO_BUILD:
                continue
            verdicts.append(test)
            print(f"{test} | {name_of[place]}", file=log, flush=True)
            if test == SURVIVED:
                print(described(*place), flush=True)
            if len(verdicts) % 20 == 0:
                print(f"{len(verdicts)} tried", flush=True)
    return judge(verdicts)


def ask_known(names):
    """Of each known place the test that noticed it."""
    known = {names[name]: test for name, test in logged(KNOWN).items() if name in names}
    asked = {place: test for place, test in known.items() if test != SURVIVED}
    tests = Tests()
    wanted = sorted(set(asked.values()) & tests.sources.keys())
    compile_of, link = prepare(wanted)
    tests.try_unchanged(wanted, {place[0].stem for place in asked})
    verdicts = [SURVIVED] * (len(known) - len(asked))
    for place, test in side_by_side(compile_of, link, asked,
                                    lambda changer, place: changer.noticed_by(
                                        tests, asked[place], *place)):
        verdicts.append(test)
        if test == SURVIVED:
            print(f"{asked[place]} notices no more: {described(*place)}", flush=True)
    if len(verdicts) < LEAST_KNOWN:
        print(f"mutants: of the places in {KNOWN.relative_to(HERE)} {len(verdicts)} are left; "
              "it wants a new run")
        return 1
    return judge(verdicts)


def main():
    names = lasting_names()
    if sys.argv[1:] == ["known"]:
        sys.exit(ask_known(names))
    if sys.argv[1:] == ["again"]:
        last = logged(WORK / "log.txt")
        sys.exit(search([names[name] for name, test in last.items()
                         if test == SURVIVED and name in names], names))
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    shift = float(sys.argv[2]) if len(sys.argv) > 2 else 0.5
    print(f"mutants: {count} of {len(names)} places", flush=True)
    sys.exit(search(chosen(list(names.values()), count, shift), names))


main()
