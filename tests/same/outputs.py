"""What check and builds share: the results of the sample case in every form,
and how two sets of them are compared."""
import json
import math
import os
import pathlib
import subprocess

FORMS = [("parts", "text", ["--speed", "95", "--hz", "42"]),
         ("parts", "JSON", ["--speed", "95", "--json"]),
         ("angles", "text", []), ("angles", "JSON", ["--json"]),
         ("orders", "text", []), ("orders", "JSON", ["--json"]),
         ("rank", "text", []), ("rank", "JSON", ["--json"]),
         ("report", "HTML", []), ("report", "JSON", ["--json"])]


def results(program, case, folder, environment=None):
    """{(command, form): bytes}; the case's path as it is typed in `folder`."""
    found = {}
    for command, form, words in FORMS:
        done = subprocess.run(
            [pathlib.Path(program).resolve(), command, case, *words],
            cwd=folder, env=os.environ if environment is None else environment,
            stdin=subprocess.DEVNULL, capture_output=True, timeout=300)
        if done.returncode != 0 or len(done.stdout) < 100:
            raise SystemExit(f"{program} {command}: exit {done.returncode}, "
                             f"{done.stderr.decode()}")
        found[command, form] = done.stdout
    return found


def numbers_apart(a, b, path=""):
    """Places where two JSON values differ otherwise than in a number, and the
    largest difference of two numbers relative to the larger one, with its
    place."""
    if isinstance(a, bool) or isinstance(b, bool) or a is None or b is None:
        return ([] if a is b else [path]), (0.0, "")
    if isinstance(a, (int, float)) and isinstance(b, (int, float)):
        size = max(abs(a), abs(b))
        apart = abs(a - b) / size if size > 0 else 0.0
        return [], (apart if math.isfinite(apart) else math.inf, path)
    if isinstance(a, dict) and isinstance(b, dict) and list(a) == list(b):
        pairs = [(a[k], b[k], f"{path}.{k}") for k in a]
    elif isinstance(a, list) and isinstance(b, list) and len(a) == len(b):
        pairs = [(x, y, f"{path}[{i}]") for i, (x, y) in enumerate(zip(a, b))]
    else:
        return ([] if a == b else [path]), (0.0, "")
    places, largest = [], (0.0, "")
    for x, y, inner in pairs:
        more, apart = numbers_apart(x, y, inner)
        places += more
        largest = max(largest, apart, key=lambda one: one[0])
    return places, largest


def first_difference(a, b):
    for x, y in zip(a.decode().split("\n"), b.decode().split("\n")):
        if x != y:
            return f"{x[:160]!r} against {y[:160]!r}"
    return "one is longer"


def json_apart(a, b):
    return numbers_apart(json.loads(a), json.loads(b))


# the comparison itself
assert numbers_apart({"a": [1, 2.0]}, {"a": [1, 2.0]}) == ([], (0.0, ""))
assert numbers_apart({"a": 1}, {"b": 1})[0] == [""]
assert numbers_apart([1, "x"], [1, "y"])[0] == ["[1]"]
assert numbers_apart([True], [1])[0] == ["[0]"]
assert abs(numbers_apart([4.0], [5.0])[1][0] - 0.2) < 1e-15
