#!/usr/bin/env python3
"""Solve the same term with a general constraint solver (CP-SAT) and compare cost and time.

    python3 tests/bench/schedule_versus_solver.py [--seconds 120] [--rungwise PATH] [CASE ...]

A case is `ladder-a`, `ladder-b` (the files in tests/schedule/ladders) or `chains-K-plain`,
`chains-K-tight`, `chains-K-breaks`; by default a few small ones. The solver's model is written from
the definition of a schedule alone. Without the package `ortools` nothing is done, and said.
"""

import argparse
import datetime as dt
import json
import pathlib
import subprocess
import sys
import tempfile
import time
import tomllib

HERE = pathlib.Path(__file__).resolve().parent
LADDERS = HERE.parent / "schedule" / "ladders"
WEEKDAYS = ["monday", "tuesday", "wednesday", "thursday", "friday"]
COSTS = {
    "short": 500, "extra": 3, "starts-before-break": 12, "split-by-break": 20, "cold-return": 10,
    "long-run": 3, "thread-cut": 5, "bunched": 6, "short-start": 4, "left-out": 20000,
}
LONG_RUN_LIMIT = 10
REVISIONS = 2


def chains(k, shape):
    """A plan and a ladder of 26 skills in k chains, as text of their files."""
    skills = []
    for i in range(26):
        lessons = (2, 3, 4) if i % 5 == 4 else (1, 1, 2) if i % 5 in (0, 2) else (1, 2, 3)
        needs = f'["x{i - k}"]' if i >= k else "[]"
        skills.append(
            f'[[skill]]\nid = "x{i}"\ntitle = "x{i}"\nneeds = {needs}\nweight = {1 + 7 * i % 5}\n'
            f"lessons = {{ least = {lessons[0]}, preferred = {lessons[1]}, most = {lessons[2]} }}\n"
        )
    closed = [("2027-02-15", "2027-02-19")]
    closed += {
        "plain": [],
        "tight": [("2027-01-25", "2027-01-27"), ("2027-03-08", "2027-03-09")],
        "breaks": [("2027-01-22", "2027-01-25"), ("2027-03-05", "2027-03-08")],
    }[shape]
    ends = "2027-04-08" if shape == "breaks" else "2027-04-02"
    week = "".join(f'{d} = ["09:10-{"09:40" if d == "friday" else "09:50"}"]\n' for d in WEEKDAYS)
    teach = json.dumps([f"x{i}" for i in range(26)])
    plan = (
        f'[class]\nname = "Class Teal"\n[term]\nstarts = 2027-01-11\nends = {ends}\n'
        f"[timetable]\n{week}"
        + "".join(f"[[closure]]\nfrom = {a}\nto = {b}\n" for a, b in closed)
        + f'[unit]\nladder = "ladder.toml"\nteach = {teach}\n'
    )
    return plan, '[ladder]\nname = "chains"\n' + "\n".join(skills)


def files_of(case):
    kind, *rest = case.split("-")
    if kind == "ladder":
        plan = (LADDERS / f"plain-term-{rest[0]}.toml").read_text()
        ladder = (LADDERS / f"width-nine-{rest[0]}.toml").read_text()
        return plan.replace(f"width-nine-{rest[0]}.toml", "ladder.toml"), ladder
    return chains(int(rest[0]), rest[1])


def periods_of(plan):
    """(minutes, break before) of every period: one lesson a day at most, whole days closed."""
    term = plan["term"]
    closed = [(c["from"], c["to"]) for c in plan.get("closure", [])]
    day, school, periods = term["starts"], [], []
    while day <= term["ends"]:
        name = day.strftime("%A").lower()
        if name in WEEKDAYS and not any(a <= day <= b for a, b in closed):
            school.append(day)
        day += dt.timedelta(1)
    for day in school:
        for entry in plan["timetable"].get(day.strftime("%A").lower(), []):
            a, b = (int(t[:2]) * 60 + int(t[3:]) for t in entry.split("-"))
            away = 0
            if periods:
                between = (periods[-1][0] + dt.timedelta(n) for n in range(1, (day - periods[-1][0]).days))
                away = sum(d not in school for d in between)
            periods.append((day, b - a, away >= 4))
    return [(minutes, broken) for _, minutes, broken in periods]


def solve(cp_model, plan, ladder, seconds):
    periods = periods_of(plan)
    total = len(periods)
    horizon = total - 1
    lengths = sorted(
        int(b[:2]) * 60 + int(b[3:]) - int(a[:2]) * 60 - int(a[3:])
        for entries in plan["timetable"].values() for a, b in (e.split("-") for e in entries)
    )
    unit_length = lengths[(len(lengths) - 1) // 2]
    skills = ladder["skill"]
    number = {s["id"]: n for n, s in enumerate(skills)}
    needs = [[number[r] for r in s.get("needs", [])] for s in skills]
    P, S = range(horizon), range(len(skills))
    m = cp_model.CpModel()
    x = [[m.new_bool_var("") for _ in P] for _ in S]
    rest, rev = [m.new_bool_var("") for _ in P], [m.new_bool_var("") for _ in P]
    teach = [m.new_bool_var("") for _ in P]
    cost = []
    for p in P:
        m.add_exactly_one([x[s][p] for s in S] + [rest[p], rev[p]])
        m.add(teach[p] == sum(x[s][p] for s in S))
    breaks = [p for p in range(total) if periods[p][1]]
    first, last, start, taught = [], [], [], []
    for s, skill in enumerate(skills):
        n = skill["lessons"]
        on = m.new_bool_var("") if skill.get("optional") else m.new_constant(1)
        count = sum(x[s])
        m.add(count >= n["least"] * on)
        m.add(count <= n["most"] * on)
        f, l = m.new_int_var(0, horizon - 1, ""), m.new_int_var(0, horizon - 1, "")
        starts = [m.new_bool_var("") for _ in P]
        m.add(sum(starts) == on)
        for p in P:
            m.add_implication(starts[p], x[s][p])
            m.add(f == p).only_enforce_if(starts[p])
            m.add(f <= p).only_enforce_if(x[s][p])
            m.add(l >= p).only_enforce_if(x[s][p])
        weight = skill.get("weight", 3)
        cost.append(COSTS["left-out"] * weight * (1 - on))
        lacks = m.new_int_var(0, 9, "")
        m.add(lacks >= n["preferred"] * on - count)
        price = m.new_int_var(0, 45, "")
        m.add_allowed_assignments([lacks, price], [(d, d * (d + 1) // 2) for d in range(10)])
        cost.append(COSTS["short"] * weight * price)
        more = m.new_int_var(0, 9, "")
        m.add(more >= count - n["preferred"])
        cost.append(COSTS["extra"] * more)
        for p in P:
            paid = (
                COSTS["starts-before-break"] * (p + 1 in breaks)
                + COSTS["cold-return"] * (p in breaks)
                + COSTS["short-start"] * (5 * periods[p][0] < 4 * unit_length)
            )
            if paid:
                cost.append(paid * starts[p])
        for b in breaks:
            if b < horizon:
                before, after = m.new_bool_var(""), m.new_bool_var("")
                m.add(f <= b - 1).only_enforce_if(before)
                m.add(f >= b).only_enforce_if(before.Not())
                m.add(l >= b).only_enforce_if(after)
                m.add(l <= b - 1).only_enforce_if(after.Not())
                split = m.new_bool_var("")
                m.add(split >= before + after + on - 2)
                cost.append(COSTS["split-by-break"] * split)
        first.append(f), last.append(l), start.append(starts), taught.append(on)
    arcs = []
    end = len(skills)
    for s in S:
        m.add(first[s] <= last[s])
        for p in P:
            m.add(last[s] < p).only_enforce_if(rev[p], taught[s])
        for r in needs[s]:
            m.add_implication(taught[s], taught[r])
            m.add(last[r] < first[s]).only_enforce_if(taught[s])
        arcs.append((end, s, m.new_bool_var("")))
        arcs.append((s, end, m.new_bool_var("")))
        arcs.append((s, s, taught[s].Not()) if skills[s].get("optional") else (s, s, m.new_constant(0)))
        for t in S:
            if s != t:
                follows = m.new_bool_var("")
                arcs.append((s, t, follows))
                m.add(last[s] < first[t]).only_enforce_if(follows)
                if s not in needs[t]:
                    cost.append(COSTS["thread-cut"] * follows)
    m.add_circuit(arcs)
    m.add(sum(rev) == REVISIONS)
    m.add(sum(rest) >= max(1, (8 * horizon + 50) // 100))
    row = None
    for p in P:
        now = m.new_int_var(0, horizon, "")
        if p:
            both = m.new_bool_var("")
            m.add(both >= rest[p] + rest[p - 1] - 1)
            cost.append(COSTS["bunched"] * both)
        m.add(now == (row + 1 if p else 1)).only_enforce_if(teach[p])
        m.add(now == 0).only_enforce_if(teach[p].Not())
        over = m.new_int_var(0, horizon, "")
        m.add(over >= now - LONG_RUN_LIMIT)
        cost.append(COSTS["long-run"] * over)
        row = now
    m.minimize(sum(cost))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 2
    begun = time.monotonic()
    status = solver.solve(m)
    spent = time.monotonic() - begun
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return (
        int(solver.objective_value) if found else None,
        int(solver.best_objective_bound), status == cp_model.OPTIMAL, spent,
    )


def ours(rungwise, plan, ladder):
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder)
        (folder / "plan.toml").write_text(plan)
        (folder / "ladder.toml").write_text(ladder)
        begun = time.monotonic()
        run = subprocess.run(
            [rungwise, "plan", str(folder), "--format", "json"], capture_output=True, text=True
        )
        spent = time.monotonic() - begun
        if run.returncode != 0:
            sys.exit(f"rungwise plan failed ({run.returncode}): {run.stderr.strip()}")
        answer = json.loads(run.stdout)
        return answer["cost"]["total"], answer["proof"], spent


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seconds", type=float, default=120, help="the solver's limit for a case")
    parser.add_argument("--rungwise", help="the program to compare with; absent: the solver alone")
    parser.add_argument("case", nargs="*", default=["chains-3-plain", "chains-5-plain"])
    arguments = parser.parse_args()
    try:
        from ortools.sat.python import cp_model
    except ImportError:
        print("skipped: the package ortools is not installed")
        return
    wrong = 0
    for case in arguments.case:
        plan, ladder = files_of(case)
        cost, bound, proven, spent = solve(
            cp_model, tomllib.loads(plan), tomllib.loads(ladder), arguments.seconds
        )
        said = f"{case}: solver {cost} (bound {bound}{', proven' if proven else ''}) in {spent:.1f} s"
        if arguments.rungwise:
            total, proof, time_of_ours = ours(arguments.rungwise, plan, ladder)
            said += f"; rungwise {total} ({proof}) in {time_of_ours:.3f} s"
            agrees = total == cost if proven else bound <= total and (cost is None or total <= cost)
            wrong += proof == "optimal" and not agrees
            said += "" if agrees else "  THEY DISAGREE"
        print(said, flush=True)
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
