"""Asks the real program for the fewest tiles of generated jobs and holds every answer against other ways to know.

Usage: offcuts.py PROGRAM [--long [--jobs N] | --spoil] [--keep FOLDER]. Each class of check prints a line. With --spoil every
class gets a spoilt answer of a few jobs, and the run fails unless each is found out. Files on which something is
wrong are kept in FOLDER (default: target/outside).
"""

import copy
import json
import pathlib
import statistics
import subprocess
import sys
import tempfile
import time

import offcut_jobs as jobs
from offcut_check import Job, plan_faults, proof_faults
from offcut_reference import TooMany, fewest_by_habit, fewest_by_pairs, fewest_tiles, strips_bound

# How long the program may look at one job; it is done long before on most. The long run tells how many it is done
# with in the shorter time.
SECONDS = 60
SECONDS_LONG = 10


class Run:
    def __init__(self, program, keep):
        self.program, self.keep = program, pathlib.Path(keep)
        self.seconds = SECONDS
        self.wrong = 0

    def ask(self, file):
        """(answer, seconds)."""
        with tempfile.NamedTemporaryFile("w", suffix=".json") as written:
            json.dump(file, written)
            written.flush()
            began = time.monotonic()
            command = [self.program, "offcuts", written.name, "--seconds", str(self.seconds)]
            done = subprocess.run(command, capture_output=True, text=True)
            took = time.monotonic() - began
        if done.returncode:
            return {"refused": done.stderr}, took
        return json.loads(done.stdout), took

    def blame(self, name, file, answer, faults):
        for fault in faults[:3]:
            print(f"{name}: {fault}", file=sys.stderr)
        if faults:
            self.wrong += 1
            self.keep.mkdir(parents=True, exist_ok=True)
            (self.keep / f"{name}.json").write_text(json.dumps(file))
            (self.keep / f"{name}.answer.json").write_text(json.dumps(answer))


def plan_and_proof(file, answer):
    """(faults, parts undecided, parts closed by search)."""
    if "refused" in answer:
        return [f"refused: {answer['refused'].strip()}"], 0, 0
    job = Job(file)
    faults, unsure, searched = proof_faults(job, answer)
    faults = plan_faults(job, answer) + faults
    habit = fewest_by_habit(job)
    if answer["tiles"] > habit:
        faults.append(f"{answer['tiles']} tiles, where a simple habit takes {habit}")
    return faults, unsure, searched


def optimum_faults(answer, optimum, whose):
    """What the optimum, found in another way, says of the answer."""
    faults = []
    if answer["bound"] > optimum:
        faults.append(f"no plan is said to use fewer than {answer['bound']} tiles, and one uses {optimum} ({whose})")
    if answer["tiles"] != optimum:
        faults.append(f"{answer['tiles']} tiles, where the fewest are {optimum} ({whose})")
    return faults


def rooms(run, count, least, most, with_reference, patterns):
    """Jobs of every kind of room: plan, proof and habits; some against the integer program."""
    referenced, equal, unproved, unsure, searched, times = 0, 0, 0, 0, 0, []
    for seed in range(count):
        file, kind = jobs.job(seed, least, most)
        answer, took = run.ask(file)
        name = f"{kind}-{seed}"
        faults, undecided, by_search = plan_and_proof(file, answer)
        unsure, searched = unsure + undecided, searched + by_search
        if "refused" not in answer:
            unproved += not answer["optimal"]
            pieces = sum(piece.get("count", 1) for piece in file["pieces"])
            times.append((kind, pieces, took, answer["optimal"]))
            optimum = reference(file, patterns) if referenced < with_reference else None
            if optimum is not None:
                referenced += 1
                equal += answer["tiles"] == optimum
                faults += optimum_faults(answer, optimum, "HiGHS")
        run.blame(name, file, answer, faults)
    print(f"{count} rooms of {least} to {most} pieces: {count - unproved} proved; {equal} of {referenced} as HiGHS; "
          f"proofs of {unsure} parts undecided here, {searched} by search")
    return times


def reference(file, patterns):
    """The optimum, where there are not too many patterns to enumerate."""
    try:
        return fewest_tiles(Job(file), patterns)
    except TooMany:
        return None


def pairs(run, count):
    """Row ends alone, against a maximum matching."""
    for seed in range(count):
        file = jobs.pairs_job(seed)
        answer, _ = run.ask(file)
        faults = plan_and_proof(file, answer)[0]
        if not faults:
            faults = optimum_faults(answer, fewest_by_pairs(Job(file)), "networkx")
            if not answer["optimal"]:
                faults.append("row ends that no three share a tile are always proved")
        run.blame(f"pairs-{seed}", file, answer, faults)
    print(f"{count} jobs of row ends: as many tiles as by networkx")


def small(run, count):
    """A few pieces on a small tile with all turns and a rack, against the integer program."""
    proved = 0
    for seed in range(count):
        file = jobs.small_job(seed)
        answer, _ = run.ask(file)
        faults = plan_and_proof(file, answer)[0]
        if not faults:
            faults = optimum_faults(answer, fewest_tiles(Job(file), most=1_000_000), "HiGHS")
            proved += answer["optimal"]
        run.blame(f"small-{seed}", file, answer, faults)
    print(f"{count} small jobs: as many tiles as by HiGHS; {proved} proved")


def strips(run, name, make, count, known=None):
    """One-dimensional bin packing: the bound is the known optimum, or the linear bound where a plan meets it."""
    met = proved = 0
    for seed in range(count):
        file = make(seed)
        answer, _ = run.ask(file)
        faults = plan_and_proof(file, answer)[0]
        if not faults:
            sizes, capacity = [piece["width"] for piece in file["pieces"]], file["tile"]["width"]
            bound = known(sizes) if known else strips_bound(sizes, capacity)
            proved += answer["optimal"]
            met += answer["tiles"] == bound
            faults = strips_faults(answer, bound, known is not None)
        run.blame(f"{name}-{seed}", file, answer, faults)
    print(f"{count} of {name}: bound as elsewhere; {met} planned with as many tiles, {proved} proved")


def strips_faults(answer, bound, is_optimum):
    faults = []
    if min(answer["bound"], answer["tiles"]) < bound:
        faults.append(f"{answer['tiles']} tiles and a bound of {answer['bound']}, where {bound} is one")
    if is_optimum and answer["bound"] > bound:
        faults.append(f"a bound of {answer['bound']}, where {bound} are enough")
    return faults


def times(told):
    """How many are proved within ten seconds, and how long showers and baths take."""
    within = sum(proved and took <= 10 for _, _, took, proved in told)
    print(f"{within} of {len(told)} jobs proved within 10 s")
    wet = sorted(took for kind, pieces, took, _ in told if kind in ("shower", "bath") and pieces <= 340)
    if wet:
        last = wet[min(len(wet) - 1, int(0.95 * len(wet)))]
        print(f"showers and baths of up to 340 pieces: {len(wet)}, median {statistics.median(wet):.3f} s, "
              f"95 of 100 within {last:.3f} s, most {wet[-1]:.3f} s")


SPOILS = {
    "a piece moved": lambda a: a["stock"][0]["pieces"][0].update(x=a["stock"][0]["pieces"][0]["x"] + 1),
    "a tile forgotten": lambda a: (a["stock"].pop(), a.update(tiles=a["tiles"] - 1, optimal=False)),
    "a cut forgotten": lambda a: next(s for s in a["stock"] if s["cuts"])["cuts"].pop(),
    "a cut moved": lambda a: (lambda c: c.update(at=c["at"] + 0.5))(next(s for s in a["stock"] if s["cuts"])["cuts"][0]),
    "a turn left out": lambda a: [p.update(turn=(p["turn"] + 180) % 360) for s in a["stock"] for p in s["pieces"]],
    "prices raised": lambda a: [double(proof) for proof in reasons(a["proof"])],
    "the best pattern lowered": lambda a: [p.update(best_pattern=p["best_pattern"] - 1) for p in reasons(a["proof"])],
    "an odd set invented": lambda a: [invent(p) for p in reasons(a["proof"])],
    "the bound raised": lambda a: (a.update(bound=a["bound"] + 1), a.update(optimal=False)),
    "parts merged": lambda a: merge(a),
    "a part split": lambda a: split(a),
    "tiles wasted": lambda a: a.update(tiles=a["tiles"] + 50, bound=0),
}


def reasons(proof):
    return [part["proof"] for part in proof["parts"]] if proof["kind"] == "parts" else [proof]


def double(proof):
    proof["prices"] = {name: 2 * price + 1 for name, price in proof["prices"].items()}


def invent(proof):
    names = list(proof["prices"])
    proof["sets"] = [{"pieces": {names[0]: 1}, "price": 1 + 2 * proof["best_pattern"]}]
    proof["kind"] = "odd_sets"


def merge(answer):
    proof = answer["proof"]
    if proof["kind"] != "parts":
        return double(proof)
    prices = {n: 1 for part in proof["parts"] for n in part["pieces"]}
    answer["proof"] = {"kind": "prices", "prices": prices, "best_pattern": 1}


def split(answer):
    """Every piece argued for by itself, as if no two could share a tile."""
    names = {place["id"]: 0 for stock in answer["stock"] for place in stock["pieces"]}
    for stock in answer["stock"]:
        for place in stock["pieces"]:
            names[place["id"]] += 1
    one = lambda name, count: {"pieces": {name: count}, "tiles": count,
                               "proof": {"kind": "prices", "prices": {name: 1}, "best_pattern": 1}}
    parts = [one(name, count) for name, count in names.items()]
    answer.update(bound=sum(names.values()), proof={"kind": "parts", "parts": parts})


def spoil(run):
    """Every fault that a class is to find, in answers that have none. Each must be found on some job, none missed."""
    found = set()
    for seed in range(6):
        file, kind = jobs.job(1000 + seed, 20, 60)
        answer, _ = run.ask(file)
        run.blame(f"unspoilt-{kind}-{seed}", file, answer, plan_and_proof(file, answer)[0])
        for name, change in SPOILS.items():
            spoilt = copy.deepcopy(answer)
            change(spoilt)
            if spoilt != answer and plan_and_proof(file, spoilt)[0]:
                found.add(name)
            elif spoilt != answer:
                run.blame(f"spoilt-{kind}-{seed}", file, spoilt, [f"{name}: NOT found out"])
    for whose, file, optimum in (
        ("HiGHS", jobs.small_job(3), fewest_tiles(Job(jobs.small_job(3)))),
        ("networkx", jobs.pairs_job(1), fewest_by_pairs(Job(jobs.pairs_job(1)))),
    ):
        answer, _ = run.ask(file)
        wrong = [answer | {"bound": optimum + 1}, answer | {"tiles": optimum + 1}, answer | {"tiles": optimum - 1}]
        if not optimum_faults(answer, optimum, whose) and all(optimum_faults(w, optimum, whose) for w in wrong):
            found.add(whose)
    answer, bound = {"tiles": 5, "bound": 5}, strips_bound([400, 400, 400, 300, 300, 700, 700, 700], 1000)
    wrong = [answer | {"bound": 4}, answer | {"bound": 6}, answer | {"tiles": 4}]
    if bound == 5 and not strips_faults(answer, 5, True) and all(strips_faults(w, 5, True) for w in wrong):
        found.add("strips")
    missing = ({"HiGHS", "networkx", "strips"} | set(SPOILS)) - found
    run.wrong += len(missing)
    print(f"{len(found)} kinds of spoilt answer found out" + (f", NOT found out: {sorted(missing)}" if missing else ""))


def main():
    program = sys.argv[1]
    option = lambda name, usual: sys.argv[sys.argv.index(name) + 1] if name in sys.argv else usual
    run = Run(program, option("--keep", "target/outside/offcuts"))
    if "--spoil" in sys.argv:
        spoil(run)
    elif "--long" in sys.argv:
        run.seconds = SECONDS_LONG
        times(rooms(run, int(option("--jobs", "500")), 20, 2000, with_reference=100, patterns=20_000))
        pairs(run, 1000)
        small(run, 2000)
        strips(run, "uniform", jobs.uniform, 20)
        strips(run, "triplets", jobs.triplets, 20, known=lambda sizes: len(sizes) // 3)
        strips(run, "set 1", jobs.set_1, 40)
        strips(run, "set 3", jobs.set_3, 10)
    else:
        rooms(run, 60, 20, 340, with_reference=20, patterns=4_000)
        pairs(run, 150)
        small(run, 150)
        strips(run, "triplets of 15", lambda seed: jobs.triplets(seed, n=15), 5, known=lambda sizes: len(sizes) // 3)
    sys.exit(1 if run.wrong else 0)


main()
