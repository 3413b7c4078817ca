# SPDX-License-Identifier: GPL-3.0-or-later
"""The numbers of the three example plans must not depend on how they were come by.

usage: python3 tests/numbers.py PROGRAM...

Each example is answered twice by the first program (the same to the byte), once more with every
length, speed, force and temperature of the plan and of the catalogue written in feet, inches,
miles an hour, pounds and degrees Fahrenheit, and wire gauges in square millimetres (the same to
1e-9), and by every other program (the same to 1e-9).
"""
import json
import math
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve().parents[1]
EXAMPLES = ["lambing-shed", "sugar-house", "boathouse"]
TOLERANCE = 1e-9

FOOT_M, POUND_KG, POUND_N = 0.3048, 0.45359237, 4.4482216152605
# unit: what it is written in, and the number there
OTHER = {
    "m": ("ft", lambda v: v / FOOT_M),
    "km": ("mi", lambda v: v / (5.28 * FOOT_M)),
    "cm": ("in", lambda v: v / 2.54),
    "mm": ("in", lambda v: v / 25.4),
    "m/s": ("mph", lambda v: v * 3.6 / (5.28 * FOOT_M)),
    "mm/h": ("in/h", lambda v: v / 25.4),
    "kN": ("lbf", lambda v: v * 1e3 / POUND_N),
    "N": ("lbf", lambda v: v / POUND_N),
    "kg": ("lb", lambda v: v / POUND_KG),
    "degC": ("degF", lambda v: v * 1.8 + 32.0),
}
UNITS = "|".join(sorted(map(re.escape, OTHER), key=len, reverse=True))
GAUGE = re.compile(r"AWG (\d+)")
QUANTITY = re.compile(rf"(?<![\w.])(-?\d+(?:\.\d+)?)(?:\.\.(-?\d+(?:\.\d+)?))?[ ]({UNITS})(?![\w/])")


def in_other_units(match):
    unit, convert = OTHER[match.group(3)]
    numbers = [repr(convert(float(text))) for text in match.groups()[:2] if text]
    return "..".join(numbers) + " " + unit


def area_of_gauge(match):
    """ASTM B258: AWG 36 is 0.005 in thick, 39 sizes on it is 92 times that."""
    diameter_mm = 0.127 * 92.0 ** ((36 - int(match.group(1))) / 39.0)
    return f"{math.pi / 4.0 * diameter_mm ** 2!r} mm2"


def converted(text):
    """A plan or class with the values of its keys in other units; remarks and words stay."""
    lines = []
    for line in text.splitlines():
        key, sign, value = line.partition("=")
        if sign and line[0] not in ";#[" and key.strip() not in ("source", "summary", "name"):
            value, semicolon, remark = value.partition(" ;")
            value = GAUGE.sub(area_of_gauge, QUANTITY.sub(in_other_units, value))
            line = key + sign + value + semicolon + remark
        lines.append(line)
    return "\n".join(lines) + "\n"


def convert_all(folder):
    """Plans and catalogue in other units, laid out as in the source; the number of gauges."""
    gauges = 0
    for part in ("examples", "profiles"):
        shutil.copytree(HERE / part, folder / part)
        for path in (folder / part).rglob("*.ini"):
            text = path.read_text()
            gauges += len(GAUGE.findall(text))
            path.write_text(converted(text))
    return gauges


def answer(program, name, source=HERE):
    environment = dict(os.environ, FAREND_PROFILES=str(source / "profiles"))
    plan = source / "examples" / f"{name}.ini"
    with tempfile.TemporaryDirectory() as folder:
        done = subprocess.run([program, "report", str(plan), "--json"], cwd=folder,
                              env=environment, capture_output=True, check=False)
    if done.returncode != 0:
        sys.exit(f"{program} report {plan}: exit {done.returncode}\n{done.stderr.decode()}")
    return done.stdout


NUMBER = re.compile(r"(-?\d+(?:\.\d+)?(?:e[-+]?\d+)?)")


def parts(text):
    """The words of a text and its numbers, to be compared as such."""
    return [float(part) if at % 2 else part for at, part in enumerate(NUMBER.split(text))]


def differences(one, other, where=""):
    """Where two answers differ by more than the tolerance, in words."""
    if isinstance(one, dict) and isinstance(other, dict):
        for key in sorted(one.keys() | other.keys()):
            yield from differences(one.get(key), other.get(key), f"{where}.{key}")
    elif isinstance(one, list) and isinstance(other, list) and len(one) == len(other):
        for at, (left, right) in enumerate(zip(one, other)):
            yield from differences(left, right, f"{where}[{at}]")
    elif isinstance(one, float) and isinstance(other, float):
        if abs(one - other) > TOLERANCE * max(1.0, abs(one), abs(other)):
            yield f"{where}: {one!r} and {other!r}"
    elif isinstance(one, str) and isinstance(other, str) and one != other:
        # Words stand at even places, numbers between them.
        left, right = parts(one), parts(other)
        if left[::2] != right[::2] or list(differences(left[1::2], right[1::2])):
            yield f"{where}: {one!r} and {other!r}"
    elif one != other:
        yield f"{where}: {one!r} and {other!r}"


def check(what, one, other):
    found = list(differences(json.loads(one), json.loads(other)))
    for line in found[:10]:
        print(f"{what}: {line}")
    print(f"{what}: {'the same' if not found else f'{len(found)} numbers differ'}", flush=True)
    return len(found)


def main():
    wrong = 0
    programs = [str(pathlib.Path(program).resolve()) for program in sys.argv[1:]]
    with tempfile.TemporaryDirectory() as folder:
        other = pathlib.Path(folder)
        if convert_all(other) < 4:
            sys.exit("numbers: the catalogue has no wire gauges left to convert")
        for name in EXAMPLES:
            first = answer(programs[0], name)
            if answer(programs[0], name) != first:
                print(f"{name}: two runs differ")
                wrong += 1
            wrong += check(f"{name} in feet, pounds, degF and mm2", first,
                           answer(programs[0], name, other))
            for program in programs[1:]:
                wrong += check(f"{name} by {program}", first, answer(program, name))
    sys.exit(1 if wrong else 0)


main()
