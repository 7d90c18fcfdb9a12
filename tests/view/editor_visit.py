#!/usr/bin/env python3
"""A level made in a real window: opened, changed, tried, saved.

    editor_visit.py PROGRAM LEVELS        (under xvfb-run, 1280 x 800)

Clicks go through the display (xdotool) to where the buttons stand in design pixels. Fails with a sentence.
"""
import os
import pathlib
import subprocess
import sys
import tempfile
import time

PROGRAM, LEVELS = sys.argv[1], sys.argv[2]
MAKE, TRY, SAVE, LEAVE, START, ADD = (214, 743), (952, 41), (1072, 41), (1192, 41), (686, 105), (458, 162)
LEAVE_ATTEMPT = (640, 427)


def fail(words):
    sys.exit(f"editor visit: {words}")


def run(*command):
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout.strip()


def wait_for(what, happened, seconds=30.0):
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if result := happened():
            return result
        time.sleep(0.1)
    return fail(f"{what} did not happen within {seconds:.0f} s")


class Visit:
    def __init__(self, data):
        environment = dict(os.environ, XDG_DATA_HOME=str(data), LC_ALL="C.UTF-8")
        self.program = subprocess.Popen([PROGRAM, "play", "--levels", LEVELS], env=environment,
                                        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        self.window = wait_for("a window", self.find)

    def find(self):
        found = subprocess.run(["xdotool", "search", "--name", "^Graftwright$"], capture_output=True, text=True)
        return found.stdout.split()[0] if found.stdout.split() else None

    def click(self, place):
        run("xdotool", "mousemove", "--window", self.window, *map(str, place), "click", "1")
        time.sleep(0.3)

    def brightness(self, x, y):
        shot = subprocess.run(["import", "-window", self.window, "-crop", f"8x8+{x}+{y}", "png:-"], check=True,
                              capture_output=True).stdout
        mean = subprocess.run(["convert", "png:-", "-colorspace", "Gray", "-format", "%[fx:mean]", "info:"], input=shot,
                              check=True, capture_output=True).stdout
        return float(mean)

    def start_is_shown(self):
        return self.brightness(40, 120) > 0.15  # the caution's amber edge and ground

    def field_is_shown(self):
        return self.brightness(24, 600) > 0.3  # the white of the eye, where the form is dark


def make_a_level(visit, own):
    wait_for("the first screen", visit.start_is_shown)
    time.sleep(0.5)
    visit.click(MAKE)
    wait_for("the form", lambda: not visit.start_is_shown())
    visit.click(START)
    visit.click(ADD)  # one bite in place
    unsaved = own / "unsaved-level.json"
    wait_for("the draft being laid aside", unsaved.exists)
    if '"host_deg"' not in unsaved.read_text():
        fail("the bite that was added is not in the draft")

    visit.click(TRY)
    wait_for("the trial", visit.field_is_shown)
    run("xdotool", "key", "--window", visit.window, "Escape")
    time.sleep(0.5)
    visit.click(LEAVE_ATTEMPT)
    wait_for("the form after the trial", lambda: not visit.field_is_shown())

    visit.click(SAVE)
    level = own / "levels" / "my-level.json"
    wait_for("the level being saved", level.exists)
    run(PROGRAM, "check", str(level))
    if unsaved.exists():
        fail("the draft still lies aside after it was saved")
    visit.click(LEAVE)
    wait_for("the first screen again", visit.start_is_shown)
    if (own / "journal.jsonl").exists() or any((own / "attempts").iterdir()):
        fail("something of the trial was kept")


def main():
    with tempfile.TemporaryDirectory() as data:
        visit = Visit(pathlib.Path(data))
        try:
            make_a_level(visit, pathlib.Path(data) / "graftwright")
        finally:
            visit.program.terminate()
            visit.program.wait()
    print("made, tried, saved")


main()
