"""Holds the waits of cold walls, and the equivalent age of concrete, against plain arithmetic in another language.

Usage: cold.py PROGRAM [CASES] [--spoil]. The program is the example `cold` of the crate trade. Each case has readings
and nights by chance. With --spoil every answer is spoilt by little, and the run fails unless each is found out.

The rule, in plain words: each 8 °C below 21 °C double a wait (splash.online/articles/winter-tiling-tips); between two
readings at most 6 hours apart the colder counts, elsewhere the coldest of both neighbours and of the nights given (the
one in force, those given within a day afterwards, and before the first the first); with no night given no faster than
the longer window allows; below 5 °C it stands still. Equivalent age: sum of exp(13.65 - 4000 / (273 + T)) dt, fib Model
Code 2020 eq. 14.6-80.
"""

import json
import math
import random
import subprocess
import sys

MINUTE, DAY, APART = 60_000, 1440, 360
LOWEST = 50


def coldest(case, at, looked):
    """(tenths or None, nothing known of a night) just after that minute."""
    older = [tenths for minute, tenths in case["readings"] if minute <= at]
    newer = [tenths for minute, tenths in case["readings"] if at < minute <= looked]
    last = max((minute for minute, _ in case["readings"] if minute <= at), default=None)
    first = min((minute for minute, _ in case["readings"] if at < minute <= looked), default=None)
    beside = older[-1:] + newer[:1]
    if last is not None and first is not None and first - last <= APART:
        return min(beside), False
    nights = [night for night in case["nights"] if night[0] <= looked]
    in_force = [tenths for minute, tenths in nights if minute <= at][-1:]
    later = [night for night in nights if night[0] > at]
    beside += in_force + [tenths for minute, tenths in later if minute - at <= DAY]
    if not in_force:
        beside += [tenths for _, tenths in later[:1]]
    return min(beside, default=None), not nights


def rate(case, tenths, unknown):
    if tenths is not None and tenths < LOWEST:
        return 0.0
    by_cold = 1.0 if tenths is None or tenths >= 210 else 2 ** (-(210 - tenths) / case["step"])
    longer = max(case["window"], case["ordinary"])
    return min(by_cold, case["window"] / longer) if unknown else by_cold


def answer(case):
    looked, left, age, over = case["looked"], float(case["window"]), [], None
    ends = {0, looked}
    for minute, _ in case["readings"] + case["nights"]:
        ends |= {end for end in (minute, minute - DAY) if 0 < end < looked}
    ends = sorted(ends)
    for began, ended in zip(ends, ends[1:]):
        tenths, unknown = coldest(case, began, looked)
        if tenths is not None and tenths >= 0:
            age.append((ended - began) / 60 * math.exp(13.65 - 4000 / (273 + tenths / 10)))
        speed = rate(case, tenths, unknown)
        passed = (ended - began) * MINUTE * speed
        if over is None and speed and passed >= left - 0.5:
            over = began * MINUTE + left / speed
        left -= passed
    if over is None:
        speed = rate(case, *coldest(case, looked, looked))
        over = looked * MINUTE + left / speed if speed else None
    return {"over": over, "age": math.fsum(age)}


def any_case(chance):
    tenths = lambda: chance.choice([chance.randint(-30, 260), chance.randint(50, 260), 210, 130, 50])
    minutes = lambda most: sorted(chance.sample(range(-2000, 5000), chance.randint(0, most)))
    looked = chance.randint(1, 5000)
    told = lambda most: [[minute, tenths()] for minute in minutes(most) if minute <= looked]
    return {
        "readings": told(chance.choice([0, 2, 12, 60])), "nights": told(3),
        "window": chance.randint(1, 72 * 60) * MINUTE, "ordinary": chance.randint(1, 72 * 60) * MINUTE,
        "looked": looked, "step": chance.choice([80, 80, 100, 137]),
    }


def faults(case, found):
    """What is wrong with an answer. A gate may be late by a few milliseconds, and early by none that a float sees."""
    known, wrong = answer(case), []
    if (known["over"] is None) != (found["over"] is None):
        wrong.append(f"over {found['over']}, not {known['over']}")
    elif known["over"] is not None:
        # Rounded up everywhere: to 2^-32 of an exponent, and each stretch to 2^-16 ms.
        most = 2 + 2e-9 * max(0.0, known["over"])
        if not -1e-6 * MINUTE <= found["over"] - known["over"] <= most + 0.06:
            wrong.append(f"over {found['over']}, not {known['over']}")
    if abs(found["age"] - known["age"]) > 1e-9 * max(1.0, known["age"]):
        wrong.append(f"age {found['age']!r}, not {known['age']!r}")
    return wrong


def main():
    spoil = "--spoil" in sys.argv
    program, *rest = [word for word in sys.argv[1:] if word != "--spoil"]
    chance, count = random.Random(4000), int(rest[0]) if rest else 2000
    cases = [any_case(chance) for _ in range(count)]
    asked = "".join(json.dumps(case) + "\n" for case in cases)
    done = subprocess.run([program], input=asked, capture_output=True, text=True, check=True)
    answers = [json.loads(line) for line in done.stdout.splitlines()]
    if len(answers) != count:
        sys.exit(f"{len(answers)} answers to {count} cases")
    stopped = sum(found["over"] is None for found in answers)
    if spoil:
        kept = [(case, found) for case, found in zip(cases, answers) if found["over"] and found["age"] > 1]
        missed = sum(not faults(case, {**found, "over": found["over"] - 3}) for case, found in kept)
        missed += sum(not faults(case, {**found, "age": found["age"] * (1 + 3e-9)}) for case, found in kept)
        print(f"cold walls, spoilt: {2 * len(kept)} answers, {missed} not found out")
        sys.exit(bool(missed) or not kept)
    wrong = [(case, found, faults(case, found)) for case, found in zip(cases, answers)]
    wrong = [(case, found, says) for case, found, says in wrong if says]
    for case, found, says in wrong[:3]:
        print(json.dumps(case), found, says, file=sys.stderr)
    print(f"cold walls: {count} cases, {stopped} standing still, {len(wrong)} wrong")
    sys.exit(bool(wrong) or stopped == count)


main()
