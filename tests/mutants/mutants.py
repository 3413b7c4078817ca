# SPDX-License-Identifier: GPL-3.0-or-later
"""Changes the physics in small ways and looks whether a test notices.

usage: python3 tests/mutants/mutants.py [COUNT]

Takes COUNT places (200 where none is given), spread evenly over src/propagation and src/wired,
and at each swaps an operator or moves a constant by a tenth. Each change is built in a copy of
the source and held against the tests that include the module's header, its own test first.
Prints what survived; exit 1 where fewer than 90 % were noticed. The choice is the same each
time. Only the Python that Debian installs and the packages of tests/run.sh are needed.
"""
import pathlib
import random
import re
import shutil
import subprocess
import sys

HERE = pathlib.Path(__file__).resolve().parents[2]
WORK = HERE / ".build" / "mutants"
TREE = WORK / "tree"
BUILD = WORK / "build"
PARTS = ["CMakeLists.txt", "src", "include", "tests", "profiles", "plots", "examples"]
ROOMS = ["propagation", "wired"]
GOAL = 0.9
LONGEST_S = 120

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
        for path in sorted((TREE / "src" / room).glob("*.c")):
            plain = without_text(path.read_text())
            for match in SITE.finditer(plain):
                yield path, match.start(), match.group(0)


def replacement(word):
    if word in SWAPS:
        return SWAPS[word]
    value = float(word)
    return repr(value * 1.1 if value else 0.1)


def tests_of(path):
    """Test programs that include the module's header, its own first; then those of its users."""
    name = path.stem
    found = []
    for test in sorted((TREE / "tests").glob("*.c")):
        if f'farend/{name}.h"' in test.read_text() or test.stem == f"test_{name}":
            found.append(test.stem)
    users = [other.stem for room in ROOMS for other in (TREE / "src" / room).glob("*.c")
             if f'{name}.h"' in other.read_text() and other.stem != name]
    for user in sorted(users):
        if (TREE / "tests" / f"test_{user}.c").exists():
            found.append(f"test_{user}")
    found.sort(key=lambda test: (test != f"test_{name}", not test.startswith("reference_")))
    return list(dict.fromkeys(found))


def run(words, **more):
    try:
        return subprocess.run(words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
                              timeout=LONGEST_S, **more).returncode
    except subprocess.TimeoutExpired:
        return -1


def build(targets):
    return subprocess.run(["cmake", "--build", str(BUILD), "--target", *targets],
                          stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL).returncode == 0


def is_noticed(tests):
    """True or false; None where the change does not compile."""
    if not build(["farend"]):
        return None
    for test in tests:
        if not build([test]):
            return True
        if run([str(BUILD / "tests" / test)], cwd=BUILD / "tests",
               env={"PATH": "/usr/bin:/bin", "FAREND_PROFILES": str(TREE / "profiles")}) != 0:
            return True
    return False


def prepare():
    shutil.rmtree(TREE, ignore_errors=True)
    TREE.mkdir(parents=True)
    for part in PARTS:
        source = HERE / part
        if source.is_dir():
            shutil.copytree(source, TREE / part)
        else:
            shutil.copy2(source, TREE / part)
    subprocess.run(["cmake", "-S", str(TREE), "-B", str(BUILD), "-DCMAKE_BUILD_TYPE=",
                    "-DCMAKE_C_FLAGS=-O1", "-DFAREND_GDAL=OFF"], check=True,
                   stdout=subprocess.DEVNULL)
    if not build(["farend", "farend_app", "farend_program", "farend_testing"]):
        sys.exit("mutants: the source does not build")


def change(path, at, word):
    """Puts the change in, holds it against the tests, takes it out again."""
    source = path.read_text()
    changed = source[:at] + replacement(word) + source[at + len(word):]
    line = source.count("\n", 0, at)
    path.write_text(changed)
    noticed = is_noticed(tests_of(path))
    path.write_text(source)
    where = f"{path.relative_to(TREE)}:{line + 1}"
    return noticed, f"{where}: {word} -> {replacement(word)}: {source.splitlines()[line].strip()}"


def main():
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    prepare()
    every = list(sites())
    random.Random(1).shuffle(every)
    tried = noticed = 0
    with open(WORK / "survivors.txt", "w") as survivors:
        for path, at, word in every:
            if tried == count:
                break
            seen, what = change(path, at, word)
            if seen is None:
                continue
            tried += 1
            noticed += seen
            if not seen:
                print(what, flush=True)
                print(what, file=survivors, flush=True)
            if tried % 20 == 0:
                print(f"{noticed} of {tried} noticed", flush=True)
    print(f"mutants: {noticed} of {tried} noticed, of {len(every)} places")
    sys.exit(0 if noticed >= GOAL * tried else 1)


main()
