"""A server of the build folder to talk to: started, asked by hand-made
requests, ended."""
import http.client
import json
import os
import re
import signal
import socket
import subprocess
import tempfile

FOREVER_S = 60


class Server:
    def __init__(self, program, folder, **how):
        self.complaints = tempfile.TemporaryFile()
        self.refused = []
        self.process = subprocess.Popen(
            [program, "serve", "--port", "0", "--folder", folder],
            stdout=subprocess.PIPE, stderr=self.complaints, **how)
        self.said = b""
        while b"/#" not in self.said:
            line = self.process.stdout.readline()
            if not line:
                raise SystemExit(f"no server: {self.complained()}")
            self.said += line
        found = re.search(rb"http://127\.0\.0\.1:(\d+)/#([0-9a-f]{32})",
                          self.said)
        self.port, self.token = int(found[1]), found[2].decode()
        self.host = f"127.0.0.1:{self.port}"

    def connect(self):
        link = socket.create_connection(("127.0.0.1", self.port), FOREVER_S)
        link.settimeout(FOREVER_S)
        return link

    def raw(self, head, body=b"", keep=None):
        """What comes back for these bytes, until the server or `keep` bytes
        end it."""
        link = self.connect()
        try:
            link.sendall(head + body)
        except OSError:
            pass  # refused before all was sent
        try:
            link.shutdown(socket.SHUT_WR)
        except OSError:
            pass
        got = b""
        try:
            while keep is None or len(got) < keep:
                piece = link.recv(65536)
                if not piece:
                    break
                got += piece
        except OSError:
            pass
        link.close()
        return got

    def code(self, head, body=b""):
        got = self.raw(head, body)
        return int(got[9:12]) if got.startswith(b"HTTP/1.1 ") else 0

    def link(self):
        """One connection for several requests, as a browser keeps it."""
        return http.client.HTTPConnection("127.0.0.1", self.port,
                                          timeout=FOREVER_S)

    def ask(self, method, path, body=None, on=None, **headers):
        """(status, headers, bytes); the token goes along."""
        link = on or self.link()
        head = {"Halfturn-Token": self.token}
        head.update({k.replace("_", "-"): v for k, v in headers.items()})
        link.request(method, path, body, {k: v for k, v in head.items() if v})
        answer = link.getresponse()
        got = answer.status, dict(answer.getheaders()), answer.read()
        if answer.status >= 400:
            self.refused.append(got[2])
        if not on:
            link.close()
        return got

    def json(self, method, path, body=None, on=None, **headers):
        status, _, got = self.ask(method, path, body, on, **headers)
        return status, json.loads(got) if got else None

    def figures(self):
        """Resident KiB, highest KiB, open descriptors."""
        status = open(f"/proc/{self.process.pid}/status").read()
        rss, high = (int(re.search(rf"^{key}:\s+(\d+)", status, re.M)[1])
                     for key in ("VmRSS", "VmHWM"))
        return rss, high, len(os.listdir(f"/proc/{self.process.pid}/fd"))

    def end(self, how=signal.SIGTERM):
        self.process.send_signal(how)
        code = self.process.wait(FOREVER_S)
        return code, self.complained()

    def complained(self):
        self.complaints.seek(0)
        return self.complaints.read()
