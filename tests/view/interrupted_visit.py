#!/usr/bin/env python3
"""What a user's folder goes through, in real windows: attempts interrupted, two windows at once, damaged files, a level
that is changed meanwhile, a full disk, no folder at all. No attempt is lost and the game always starts.

    interrupted_visit.py PROGRAM LEVELS SCREENSHOTS        (under xvfb-run)

Fails with a sentence; screenshots are kept for the eye.
"""
import json
import os
import pathlib
import shutil
import subprocess
import tempfile
import time

from end_to_end import LEVELS, PROGRAM, SHOTS, Visit, fail, run, wait_for

CONTINUE, SET_ASIDE, ANOTHER = (1165, 204), (984, 204), (846, 204)


def play_on(visit, journal, what):
    """The attempt in this window goes on in this journal."""
    def seconds():
        return journal.read_text().count('"tick"') if journal.exists() else 0

    before = seconds()
    wait_for(what, lambda: seconds() > before)
    if visit.program.poll() is not None:
        fail(f"{what}: the program has ended")


def still_runs(visit, seconds):
    time.sleep(seconds)
    if visit.program.poll() is not None:
        fail(f"the game has ended: {visit.program.stderr.read().decode()}")


def only_sound_lines(journal):
    lines = journal.read_text().splitlines()
    if json.loads(lines[0])["format"] != "graftwright-journal":
        fail(f"{journal.name} has no head")
    ticks = [json.loads(line)["tick"] for line in lines[1:] if line]
    if ticks != sorted(ticks):
        fail(f"two attempts are mixed in {journal.name}")


def two_windows(data):
    folder = data / "graftwright"
    first, second = folder / "journal.jsonl", folder / "journal-2.jsonl"
    window = Visit(data)
    window.key("Return")
    play_on(window, first, "the first window's journal")
    other = Visit(data)
    other.shot("second_window")
    other.key("Return")
    play_on(other, second, "the second window's journal")
    play_on(window, first, "the first window beside the second one")
    window.kill()
    other.kill()
    only_sound_lines(first)
    only_sound_lines(second)


def another_level(data):
    """Both attempts are still there after a third is begun, and each can be gone on with."""
    folder = data / "graftwright"
    first, second, third = (folder / f"journal{n}.jsonl" for n in ("", "-2", "-3"))
    kept = first.read_bytes(), second.read_bytes()
    subprocess.run([PROGRAM, "play", "eight", "--levels", str(LEVELS), "--frames", "20"], check=True, capture_output=True,
                   env=dict(os.environ, XDG_DATA_HOME=str(data)))
    if third.exists():
        fail("a run that only measures its frames has a journal")
    visit = Visit(data, "eight")
    visit.shot("two_interrupted")
    visit.key("Return")
    play_on(visit, third, "the third journal")
    visit.kill()
    if (first.read_bytes(), second.read_bytes()) != kept:
        fail("an interrupted attempt was written over by another level")
    visit = Visit(data)
    visit.click(*CONTINUE)
    play_on(visit, third, "going on with the latest attempt")
    visit.kill()
    visit = Visit(data)
    visit.click(*ANOTHER)
    time.sleep(0.5)
    visit.shot("another")
    visit.click(*SET_ASIDE)
    wait_for("setting the second one aside", lambda: list(folder.glob("journal*.jsonl.aside-1")))
    visit.kill()


def damaged(data):
    folder = data / "graftwright"
    folder.mkdir(parents=True)
    broken = {"settings.json": '{"format":5}', "journal.jsonl": '{"format":"graftwright-journal","version":"x"}\n'}
    for name, text in broken.items():
        (folder / name).write_text(text)
    visit = Visit(data)
    visit.shot("put_aside")
    for name, text in broken.items():
        if (folder / f"{name}.aside-1").read_text() != text:
            fail(f"the damaged {name} was not kept as it was")
    visit.key("Return")
    play_on(visit, folder / "journal.jsonl", "a new journal beside the damaged one")
    visit.kill()


def changed_level(data):
    levels, journal = data / "levels", data / "graftwright" / "journal.jsonl"
    shutil.copytree(LEVELS, levels)
    visit = Visit(data, "eight", levels)
    visit.key("Return")
    play_on(visit, journal, "the journal")
    visit.kill()
    kept, level = journal.read_bytes(), levels / "eight.json"
    text = level.read_text()
    for change in (lambda: level.write_text(text.replace('"title": "', '"title": "Another ')), level.unlink):
        change()
        visit = Visit(data, "sixteen", levels)
        visit.click(*CONTINUE)
        still_runs(visit, 1.5)  # a journal that went on would have a line by now
        visit.shot("changed_level")
        if journal.read_bytes() != kept:
            fail("an attempt went on in a level that is not its own, or was lost")
        visit.kill()


def full_disk(data):
    visit = Visit(data)
    run("prlimit", f"--pid={visit.program.pid}", "--fsize=300:unlimited")
    visit.key("Return")
    wait_for("a journal that the disk takes no more of", lambda: visit.journal.exists() and visit.journal.stat().st_size == 300)
    still_runs(visit, 1.5)
    visit.shot("full_disk")
    run("prlimit", f"--pid={visit.program.pid}", "--fsize=unlimited:unlimited")
    play_on(visit, visit.journal, "going on when there is room")
    visit.kill()
    only_sound_lines(visit.journal)


def no_folder(data):
    data.write_text("a file where the folder should be")
    visit = Visit(data)
    visit.shot("no_folder")
    visit.key("Return")
    still_runs(visit, 1.5)
    visit.shot("no_journal")
    visit.kill()


def main():
    SHOTS.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        data = pathlib.Path(folder)
        two_windows(data / "windows")
        another_level(data / "windows")
        damaged(data / "damaged")
        changed_level(data / "changed")
        full_disk(data / "full")
        no_folder(data / "none")
    print("two windows, another level, damaged files, a changed level, a full disk, no folder: nothing lost")


if __name__ == "__main__":
    main()
