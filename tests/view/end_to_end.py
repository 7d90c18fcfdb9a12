#!/usr/bin/env python3
"""A visit to the game in a real window: start, place a bite, tie it, crash, go on, ring check, debrief, my
practice, quit; and what the logbook says of it afterwards.

    end_to_end.py PROGRAM LEVELS SCREENSHOTS        (under xvfb-run)

Keys go through the display (xdotool), so this is what a person's keyboard does. The bite's keys are those of
the shipped careful hand. Fails with a sentence; screenshots are kept for the eye.
"""
import json
import os
import pathlib
import signal
import subprocess
import sys
import tempfile
import time

PROGRAM, LEVELS, SHOTS = sys.argv[1], pathlib.Path(sys.argv[2]), pathlib.Path(sys.argv[3])
KEYS = {"primary": "space", "left": "Left", "right": "Right", "up": "Up", "down": "Down", "forceps": "f",
        "evert_more": "e", "turn_forward": "x", "tighter": "t", "fine": "Tab", "bury_donor": "1", "ring_check": "r",
        "finish": "F10", "back": "BackSpace", "leak_check": "l"}


def fail(words):
    sys.exit(f"end to end: {words}")


def run(*command):
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout.strip()


def wait_for(what, happened, seconds=20.0):
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if result := happened():
            return result
        time.sleep(0.05)
    return fail(f"{what} did not happen within {seconds:.0f} s")


class Visit:
    def __init__(self, data, level="sixteen", levels=LEVELS):
        self.journal = data / "graftwright" / "journal.jsonl"
        self.attempts = data / "graftwright" / "attempts"
        environment = dict(os.environ, XDG_DATA_HOME=str(data), LC_ALL="C.UTF-8")
        others = self.windows()
        # A disk's limit (SIGXFSZ) is ignored, as this script ignores it.
        self.program = subprocess.Popen([PROGRAM, "play", level, "--levels", str(levels)], env=environment,
                                        stdout=subprocess.PIPE, stderr=subprocess.PIPE, restore_signals=False)
        self.window = wait_for("a window", lambda: next(iter(self.windows() - others), None))
        time.sleep(1.0)  # its first frames

    @staticmethod
    def windows():
        found = subprocess.run(["xdotool", "search", "--name", "^Graftwright$"], capture_output=True, text=True)
        return set(found.stdout.split())

    def shot(self, name):
        run("import", "-window", self.window, str(SHOTS / f"{name}.png"))

    def key(self, name, times=1):
        for _ in range(times):
            run("xdotool", "key", "--window", self.window, "--clearmodifiers", name)

    def click(self, x, y):
        run("xdotool", "mousemove", "--window", self.window, str(x), str(y), "click", "1")

    def bites(self):
        if not self.journal.exists():
            return 0
        return sum('"bite"' in line for line in self.journal.read_text().splitlines())

    def kill(self):
        self.program.send_signal(signal.SIGKILL)
        self.program.wait()


def place_and_tie(visit, shots=False):
    events = json.loads((LEVELS / "hands" / "careful.json").read_text())["events"]
    last, done = 0.0, 0
    for event in events:
        command = event["key"].removeprefix("@")
        if event["t_s"] - last > 0.3:
            # The needle is still on its way, and on a busy machine the game's time runs behind the clock.
            time.sleep(3 * (event["t_s"] - last) + 0.5)
            if shots and command == "primary":
                visit.shot(f"needle_{done}")
                done += 1
        visit.key(KEYS[command], event.get("times", 1))
        last = event["t_s"] + (event.get("times", 1) - 1) / 120
        if command == "bury_donor":
            return


def main():
    SHOTS.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        data = pathlib.Path(folder)
        visit = Visit(data)
        visit.shot("start")
        visit.key("Return")
        wait_for("the level", visit.journal.exists)
        place_and_tie(visit, shots=True)
        wait_for("the first bite in the journal", lambda: visit.bites() == 1)
        time.sleep(1.2)
        visit.shot("one_bite")
        visit.kill()  # the machine dies

        visit = Visit(data)
        visit.shot("start_again")
        visit.click(1165, 204)  # "Continue it"
        time.sleep(1.0)
        if visit.bites() != 1:
            fail("the bite of the interrupted attempt is gone")
        visit.key("r")
        time.sleep(1.0)
        visit.shot("ring_check")
        visit.key("BackSpace")
        visit.key("F10")
        attempts = wait_for("the debrief", lambda: list(visit.attempts.glob("*.json")))
        time.sleep(0.5)
        visit.shot("debrief")
        attempt = json.loads(attempts[0].read_text())
        if len(attempt["bites"]) != 1:
            fail(f"one bite was tied, the attempt has {len(attempt['bites'])}")
        depth = attempt["bites"][0]["graft_depth_um"] / 550
        if not 0.85 < depth < 0.97:
            fail(f"the bite is {depth:.2f} deep in the donor; the keys mean 0.92")
        visit.click(1026, 749)  # "Levels"
        time.sleep(0.7)
        visit.shot("levels")
        visit.click(1165, 53)  # "My practice"
        time.sleep(0.7)
        visit.shot("my_practice")
        visit.click(1174, 749)  # "Done"
        time.sleep(0.7)
        visit.click(1167, 725)  # "Quit"
        wait_for("the end", lambda: visit.program.poll() is not None)
        if visit.program.returncode != 0:
            fail(f"the program left with {visit.program.returncode}")
        if noise := visit.program.stderr.read().decode():
            fail(f"it had something to complain about: {noise}")
        book = data / "graftwright" / "logbook.sqlite"
        kept = json.loads(run(PROGRAM, "logbook", "export", "--format", "json", "--logbook", str(book)))["attempts"]
        if len(kept) != 1 or kept[0]["attempt"] != attempt:
            fail(f"the logbook has {len(kept)} attempts, or another one than the one played")
    print("start, bite, knot, crash, going on, ring check, debrief, my practice, quit: all seen")


if __name__ == "__main__":
    main()
