"""Times `halfturn rank` beside a scripted peer and the bare limit, in turns.
Called by tests/benchmark/run, which says what the arguments are. Exit 0 once
everything has run, whatever the figures are; 1 when something failed."""
import argparse
import datetime
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import time

MIB = 1024  # in the kB of /proc
POLL_S = 0.002
BUSY_A_CORE = 0.5
FEWEST_SEEN = 5  # orders, of the six that every drive here holds

SHEET = """\
halfturn: 1
title: An invented car, for the benchmark
vehicle:
  class: car
  drive: rear
  tyre: 225/60R16
  axle_ratio: 3.73
  gear_ratios: [3.5, 2.0, 1.3, 1.0, 0.8]
  engine: {strokes: 4, cylinders: 4}
  top_speed_km_h: 120
drive:
  recording: %s
  gear: 5
  speed: {file: speed.csv, unit: km/h, column: kmh}
"""
SOUND = """\
  channels:
    - {name: 1, unit: m/s2, scale: 16, place: seat_rail}
    - {name: 2, unit: m/s2, scale: 16, place: seat_rail}
    - {name: 3, unit: m/s2, scale: 16, place: seat_rail}
"""
TABLE = "  sensor: {place: seat_rail}\n"
CASES = {"wav": ("drive.wav", SOUND), "flac": ("drive.flac", SOUND),
         "table": ("phone.csv", TABLE)}

# id, name, who, arguments
JOBS = [
    ("rank_wav", "rank, WAV", "ours", ["wav"]),
    ("rank_flac", "rank, FLAC", "ours", ["flac"]),
    ("rank_table", "rank, table", "ours", ["table"]),
    ("peer_wav", "peer, WAV", "peer", ["wav", "drive.wav", "speed.csv"]),
    ("peer_table", "peer, table", "peer", ["csv", "phone.csv", "speed.csv"]),
    ("limit_wav", "limit, WAV, two threads", "limit",
     ["chain2", "drive.wav", "speed.csv"]),
    ("limit_wav_1", "limit, WAV, one thread", "limit",
     ["chain", "drive.wav", "speed.csv"]),
    ("limit_table", "limit, table", "limit",
     ["csvchain", "phone.csv", "speed.csv"]),
    ("decode_wav", "limit, only decode WAV", "limit", ["decode", "drive.wav"]),
    ("decode_flac", "limit, only decode FLAC", "limit",
     ["decode", "drive.flac"]),
]
# what, dividend, divisor, goal
TIMES = [
    ("WAV, times faster than the peer", "peer_wav", "rank_wav", (">=", 5)),
    ("WAV, times the limit", "rank_wav", "limit_wav", ("<=", 1.7)),
    ("WAV, times the limit on one thread", "rank_wav", "limit_wav_1",
     None),
    ("WAV, times decoding alone", "rank_wav", "decode_wav", None),
    ("FLAC, times decoding alone", "rank_flac", "decode_flac",
     ("<=", 1.4)),
    ("table, times faster than the peer", "peer_table", "rank_table",
     (">=", 8)),
    ("table, times the limit", "rank_table", "limit_table", None),
]
MEMORY = [
    ("WAV, both processes, MiB", "rank_wav", None, ("<=", 64)),
    ("FLAC, both processes, MiB", "rank_flac", None, ("<=", 64)),
    ("table, MiB", "rank_table", None, ("<=", 64)),
    ("WAV, times less memory than the peer", "peer_wav", "rank_wav", None),
    ("WAV, times the memory of the limit", "rank_wav", "limit_wav", None),
    ("table, times less memory than the peer", "peer_table", "rank_table",
     None),
]


def spawn(command, errors):
    """No fork of this process: the small jobs would pay for it."""
    silence = [(os.POSIX_SPAWN_OPEN, 1, "/dev/null", os.O_WRONLY, 0),
               (os.POSIX_SPAWN_DUP2, errors.fileno(), 2)]
    return os.posix_spawn(command[0], command, os.environ,
                          file_actions=silence)


def demand(status, command, errors):
    if status:
        errors.seek(0)
        sys.exit(f"{' '.join(command)}\nexit "
                 f"{os.waitstatus_to_exitcode(status)}: "
                 f"{errors.read().decode(errors='replace')}")


def timed(command):
    """Seconds by the clock on the wall, and of computing with all children."""
    with tempfile.TemporaryFile() as errors:
        start = time.perf_counter()
        _, status, used = os.wait4(spawn(command, errors), 0)
        wall = time.perf_counter() - start
        demand(status, command, errors)
    return wall, used.ru_utime + used.ru_stime


def read(path):
    try:
        return pathlib.Path(path).read_text()
    except OSError:  # it has ended
        return ""


def note_highest(pid, highest, parent=""):
    """Notes name and high-water mark of a process and its children. A child
    counts once it is a program of its own: until then it is the image of its
    parent, with the parent's memory and name."""
    status = dict(line.split(":\t", 1) for line in
                  read(f"/proc/{pid}/status").splitlines() if ":\t" in line)
    name, mark = status.get("Name", ""), status.get("VmHWM")
    if mark and name != parent:
        _, before = highest.get(pid, (name, 0))
        highest[pid] = name, max(before, int(mark.split()[0]) / MIB)
    for task in pathlib.Path(f"/proc/{pid}/task").glob("*/children"):
        for child in read(task).split():
            note_highest(child, highest, name)


def memory(command):
    """Highest MiB of each process, in a run of its own."""
    highest = {}
    with tempfile.TemporaryFile() as errors:
        child = spawn(command, errors)
        while True:
            note_highest(str(child), highest)
            done, status = os.waitpid(child, os.WNOHANG)
            if done:
                break
            time.sleep(POLL_S)
        demand(status, command, errors)
    return dict(sorted(highest.values(), key=lambda one: -one[1]))


def commands(asked, program):
    starts = {"ours": [str(program), "rank"],
              "peer": asked.peer and ["/usr/bin/python3", asked.peer],
              "limit": asked.limit and [asked.limit]}
    for job, _, who, words in JOBS:
        if not starts[who]:
            continue
        if who == "ours":
            words = [f"{words[0]}.yaml"]
        yield job, starts[who] + [str(asked.inputs / word) if "." in word
                                  else word for word in words]


def write_sheets(inputs):
    for name, (recording, rest) in CASES.items():
        (inputs / f"{name}.yaml").write_text(SHEET % recording + rest)


def demand_a_result(command):
    """A quick refusal must not pass for a quick answer."""
    done = subprocess.run(command + ["--json"], text=True, capture_output=True)
    if done.returncode:
        sys.exit(f"{' '.join(command)}\nexit {done.returncode}: {done.stderr}")
    answer = json.loads(done.stdout)
    seen = [order for order in answer["orders"]
            if order["channel"] == "all" and order["state"] == "seen"]
    if answer["speed"]["state"] != "accepted" or len(seen) < FEWEST_SEEN:
        sys.exit(f"{' '.join(command)}: only {len(seen)} orders seen")


def measure(asked, program):
    jobs = dict(commands(asked, program))
    runs = {job: [] for job in jobs}
    for turn in range(asked.rounds + 1):  # the first one only warms up
        print(f"round {turn} of {asked.rounds}", file=sys.stderr)
        for job, command in jobs.items():
            if turn == 0 and job.startswith("rank"):
                demand_a_result(command)
            figures = timed(command)
            if turn:
                runs[job].append(figures)
    return {job: {"wall_s": min(wall for wall, _ in runs[job]),
                  "cpu_s": min(cpu for _, cpu in runs[job]),
                  "all_wall_s": [wall for wall, _ in runs[job]],
                  "mib": memory(command)}
            for job, command in jobs.items()}


def ratio(found, name, dividend, divisor):
    if dividend not in found or divisor not in (*found, None):
        return None
    return found[dividend][name] / (found[divisor][name] if divisor else 1)


def compared(found):
    rows = []
    for what, dividend, divisor, goal in TIMES + MEMORY:
        memory_row = (what, dividend, divisor, goal) in MEMORY
        names = ["all_mib"] if memory_row else ["wall_s", "cpu_s"]
        values = [ratio(found, name, dividend, divisor) for name in names]
        if values[0] is None:
            continue
        reached = None
        if goal:
            sense, bound = goal
            reached = (values[0] >= bound if sense == ">="
                       else values[0] <= bound)
        rows.append({"what": what, "value": values[0], "goal": goal,
                     "by_cpu": values[1] if not memory_row else None,
                     "reached": reached})
    return rows


def commit(source):
    """The last one that changed the program."""
    def git(*words):
        done = subprocess.run(
            ["git", "-C", source, *words, "--", "src", "include",
             "CMakeLists.txt"], text=True, capture_output=True)
        return done.stdout.strip()
    changed = git("status", "--porcelain")
    return (git("log", "-1", "--format=%h") or "unknown") + (
        " with changes" if changed else "")


def processor():
    found = re.search(r"^model name\s*: (.*)", read("/proc/cpuinfo"), re.M)
    return found.group(1) if found else os.uname().machine


def machine():
    cores, load = len(os.sched_getaffinity(0)), os.getloadavg()[0]
    return {"processor": processor(), "cores": cores, "load": round(load, 2),
            "busy": load > BUSY_A_CORE * cores}


def check_build(source, build, program):
    facts = json.loads(read(build / "benchmark" / "build.json") or "{}")
    if not facts:
        sys.exit(f"{build} was not configured with the tests. Type:\n  "
                 f"cmake -S {source} -B {build} -DHALFTURN_TESTS=ON")
    if (facts["type"] not in ("Release", "RelWithDebInfo")
            or facts["compiler"] != "GNU" or facts["sanitize"]):
        sys.exit(f"{build}: a Release or RelWithDebInfo build by gcc, without "
                 f"sanitizers, is wanted; this is {facts['type']} by "
                 f"{facts['compiler']} {facts['sanitize']}".rstrip())
    built = [program, build / "halfturn-decoder"]
    sources = [path for folder in ("src", "include")
               for path in (source / folder).rglob("*.[ch]")]
    newest = max(path.stat().st_mtime for path in sources)
    if not all(path.exists() for path in built) or newest > max(
            path.stat().st_mtime for path in built):
        sys.exit(f"{build} is older than its sources. Type:\n  "
                 f"cmake --build {build} --target benchmark")
    return facts


def job_lines(found):
    yield f"{'job':34}{'wall s':>9}{'CPU s':>9}   highest memory, MiB"
    for job, name, _, _ in JOBS:
        if job not in found:
            continue
        one, parts = found[job], found[job]["mib"].values()
        each = " + ".join(f"{part:.1f}" for part in parts)
        total = f" = {one['all_mib']:.1f}" if len(parts) > 1 else ""
        yield (f"{name:34}{one['wall_s']:9.3f}{one['cpu_s']:9.3f}   "
               f"{each}{total}")


def goal_words(row):
    if not row["goal"]:
        return ""
    sense, bound = row["goal"]
    words = {">=": "at least", "<=": "at most"}[sense]
    return f"  {words} {bound}: {'' if row['reached'] else 'not '}reached"


def ratio_lines(rows, title):
    yield title
    for row in rows:
        cpu = "" if row["by_cpu"] is None else f"{row['by_cpu']:.2f}"
        yield (f"{row['what']:39}{row['value']:7.2f}{cpu:>8}"
               f"{goal_words(row)}").rstrip()


def report(result):
    made, box = result["build"], result["machine"]
    yield (f"Halfturn {made['version']}, commit {result['commit']}, "
           f"{result['date']}")
    yield f"{made['type']}, gcc {made['compiler_version']}"
    yield f"{box['processor']}, {box['cores']} cores, load {box['load']}"
    if box["busy"]:
        yield ("Busy machine, ratios only: the load is above "
               f"{BUSY_A_CORE} a core.")
    if not result["peer_and_limit"]:
        yield "Peer and limit are absent: ours only, on inputs of our own."
    yield ("Ten minutes, 3 channels: sound at 48 kHz, table at 400 Hz. "
           f"Least of {result['rounds']} rounds.")
    yield ""
    yield from job_lines(result["jobs"])
    yield ""
    times = [row for row in result["ratios"] if row["by_cpu"] is not None]
    if times:
        yield from ratio_lines(times, f"{'rank':42}wall  by CPU  goal")
        yield ""
    yield from ratio_lines([row for row in result["ratios"]
                            if row["by_cpu"] is None], "rank, memory")


def write_docs(source, text):
    page = source / "docs" / "performance.md"
    block = re.compile(r"(```text\n)Halfturn .*?(```\n)", re.S)
    fresh, count = block.subn(lambda m: m[1] + text + m[2], page.read_text())
    if count != 1:
        sys.exit(f"{page}: {count} runs stand there, one is wanted")
    page.write_text(fresh)


def arguments():
    parser = argparse.ArgumentParser(prog="tests/benchmark/run BUILD_DIR")
    for name in ("source", "build"):
        parser.add_argument(name, type=pathlib.Path, help=argparse.SUPPRESS)
    parser.add_argument("--inputs", type=pathlib.Path, help=argparse.SUPPRESS)
    for name in ("--peer", "--limit"):
        parser.add_argument(name, help=argparse.SUPPRESS)
    parser.add_argument("--rounds", type=int, default=5)
    parser.add_argument("--json", type=pathlib.Path, metavar="FILE")
    return parser.parse_args()


def main():
    asked = arguments()
    program = asked.build / "halfturn"
    result = {"schema": 1, "commit": commit(asked.source),
              "date": f"{datetime.datetime.now():%Y-%m-%d %H:%M}",
              "build": check_build(asked.source, asked.build, program),
              "machine": machine(), "rounds": asked.rounds,
              "peer_and_limit": bool(asked.peer and asked.limit)}
    write_sheets(asked.inputs)
    result["jobs"] = measure(asked, program)
    for job in result["jobs"].values():
        job["all_mib"] = sum(list(job["mib"].values())[:2])
    result["ratios"] = compared(result["jobs"])
    text = "\n".join(report(result)) + "\n"
    print(text, end="")
    if asked.json:
        asked.json.write_text(json.dumps(result, indent=1) + "\n")
    if os.environ.get("HALFTURN_WRITE_DOCS"):
        if not result["peer_and_limit"]:
            sys.exit("docs/performance.md stays: no peer, no limit to show")
        write_docs(asked.source, text)


main()
