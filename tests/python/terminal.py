"""A program on a terminal of its own, as a person sits at one."""

import fcntl
import os
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from pathlib import Path

COMMAND = Path(sys.executable).with_name("wheelrate")
# A command under load on a slow machine starts within this; a prompt then comes at once.
PATIENCE = 60.0
CTRL_C, CTRL_D = "\x03", "\x04"


class Terminal:
    """The command on a pseudo-terminal of 24 rows."""

    def __init__(self, *arguments, cwd, columns=80):
        self.master, slave = os.openpty()
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 24, columns, 0, 0))
        environment = {key: value for key, value in os.environ.items() if key not in ("COLUMNS", "LINES")}

        def lead():
            """Take the terminal as the one that Ctrl-C comes from."""
            os.setsid()
            signal.signal(signal.SIGINT, signal.SIG_DFL)  # a shell that runs the tests aside has it ignored
            fcntl.ioctl(0, termios.TIOCSCTTY, 0)

        self.process = subprocess.Popen(
            [COMMAND, *map(str, arguments)],
            stdin=slave,
            stdout=slave,
            stderr=slave,
            cwd=cwd,
            env=environment,
            preexec_fn=lead,
        )
        os.close(slave)
        self.seen = ""
        self.waited_to = 0

    def _more(self, until):
        if not select.select([self.master], [], [], max(0.0, until - time.monotonic()))[0]:
            return False
        try:
            data = os.read(self.master, 65536)
        except OSError:  # the other side is closed
            return False
        self.seen += data.decode("utf-8").replace("\r\n", "\n")
        return bool(data)

    def expect(self, text):
        """Wait until a text is shown, after what was waited for before."""
        until = time.monotonic() + PATIENCE
        while (at := self.seen.find(text, self.waited_to)) < 0:
            assert self._more(until), f"{text!r} is not in {self.seen[self.waited_to :]!r}"
        self.waited_to = at + len(text)

    def say(self, text):
        os.write(self.master, text.encode() + b"\n")

    def press(self, key):
        os.write(self.master, key.encode())

    def interrupt(self, text):
        """Press Ctrl-C until a text is shown: one that falls between a prompt and its reading may not be heard."""
        for _ in range(int(PATIENCE)):
            self.press(CTRL_C)
            until = time.monotonic() + 1.0
            while self.seen.find(text, self.waited_to) < 0 and self._more(until):
                pass
            if self.seen.find(text, self.waited_to) >= 0:
                return self.expect(text)
        raise AssertionError(f"{text!r} is not in {self.seen[self.waited_to :]!r}")

    def end(self):
        """Wait for the end; give the exit code."""
        until = time.monotonic() + PATIENCE
        while self._more(until):
            pass
        code = self.process.wait(PATIENCE)
        os.close(self.master)
        return code
