"""A case with a large file, on its way in, out and in again: meanwhile others
are answered, and the server ends when it is told to."""
import json
import threading
import time

PIECE = bytes(range(250)) * 4000


class Meanwhile:
    """Asks small things over one connection, as long as something else
    goes on."""

    def __init__(self, server, path):
        self.server, self.path = server, path
        self.over = threading.Event()
        self.took, self.codes = [], set()

    def __enter__(self):
        self.thread = threading.Thread(target=self.ask)
        self.thread.start()
        return self

    def __exit__(self, *_):
        self.over.set()
        self.thread.join()

    def ask(self):
        link = self.server.link()
        while not self.over.is_set():
            for path in ("/api/cases", self.path):
                begun = time.monotonic()
                self.codes.add(self.server.ask("GET", path, on=link)[0])
                self.took.append(time.monotonic() - begun)
            time.sleep(0.002)
        link.close()


def send(server, line, pieces, size):
    """A body of known length, in pieces; what is answered."""
    link = server.connect()
    link.sendall((f"{line} HTTP/1.1\r\nHost: {server.host}\r\n"
                  f"Halfturn-Token: {server.token}\r\nConnection: close\r\n"
                  f"Content-Length: {size}\r\n\r\n").encode())
    for piece in pieces:
        link.sendall(piece)
    got = b""
    while piece := link.recv(65536):
        got += piece
    return got


def fetch(server, path, to=None):
    """Read off, into a file where one is given; (status, bytes)."""
    link = server.link()
    link.request("GET", path, headers={"Halfturn-Token": server.token})
    answer = link.getresponse()
    size = 0
    while piece := answer.read(1 << 20):
        size += len(piece)
        if to:
            to.write(piece)
    link.close()
    return answer.status, size


def upload(server, case, size):
    return send(server, f"PUT /api/cases/{case}/files/big.bin",
                (PIECE for _ in range(size // len(PIECE))), size)


def import_(server, path, key=""):
    with open(path, "rb") as file:
        return send(server, f"POST /api/cases/import{key}",
                    iter(lambda: file.read(1 << 20), b""),
                    path.stat().st_size)


def others_are_answered(server, note, case, other, folder, most_s):
    """Each of three ways up to five times: the machine may be busy with
    others."""
    archive = folder / "big.zip"
    size = 200 * 1000 * 1000
    made = []

    def out():
        with open(archive, "wb") as file:
            status, got = fetch(server, f"/api/cases/{case}/case.zip", file)
        note(status == 200 and got > size, f"exported: {status}, {got} bytes")

    def back():
        got = import_(server, archive)
        note(got.startswith(b"HTTP/1.1 201"), f"imported: {got[:200]}")
        made.append(json.loads(got.split(b"\r\n\r\n", 1)[1])["id"])

    def in_():
        got = upload(server, case, size)
        note(got.startswith(b"HTTP/1.1 200"), f"upload: {got[:200]}")

    for what, do in (("upload", in_), ("export", out), ("import", back)):
        worst, took = [], []
        for _ in range(5):
            with Meanwhile(server, f"/api/cases/{other}/angles") as others:
                begun = time.monotonic()
                do()
                took.append(time.monotonic() - begun)
            note(others.codes == {200} and len(others.took) > 10,
                 f"meanwhile: {others.codes}, {len(others.took)} answers")
            worst.append(max(others.took))
            if worst[-1] < most_s:
                break
        note(min(worst) < most_s, f"{what}: others waited {worst} s")
        print(f"{what} of {size // 1000000} MB in {min(took):.2f} s: others "
              f"waited up to {1000 * min(worst):.0f} ms")
    files = server.json("GET", f"/api/cases/{made[-1]}")[1]["files"]
    note([file["bytes"] for file in files] == [size], f"came back: {files}")
    note(files == server.json("GET", f"/api/cases/{case}")[1]["files"],
         "other bytes came back")
    for id_ in made:
        server.ask("DELETE", f"/api/cases/{id_}")
    return archive


def once_with_a_key(server, note, case, folder):
    archive = folder / "small.zip"
    with open(archive, "wb") as file:
        fetch(server, f"/api/cases/{case}/case.zip", file)
    first, second = (json.loads(import_(server, archive, "?key=once").split(
        b"\r\n\r\n", 1)[1]) for _ in range(2))
    note(first == second, f"twice with one key: {first} {second}")
    server.ask("DELETE", f"/api/cases/{first['id']}")


def ends_in_the_middle(server, note, case, archive, most_s):
    """Told to end while one case is packed, one unpacked, one sent."""
    def quietly(what, *words):
        try:
            what(*words)
        except OSError:
            pass  # it has gone
        except Exception:
            pass  # an answer cut off

    for what, *words in ((fetch, server, f"/api/cases/{case}/case.zip"),
                         (import_, server, archive),
                         (upload, server, case, 200 * 1000 * 1000)):
        threading.Thread(target=quietly, args=(what, *words),
                         daemon=True).start()
    time.sleep(0.4)
    begun = time.monotonic()
    code, said = server.end()
    took = time.monotonic() - begun
    note(code == 0 and said == b"", f"ended: {code} {said[:2000]}")
    note(took < most_s, f"ended after {took:.1f} s in the middle of files")
    print(f"ended after {took:.2f} s in the middle of files")
