"""The manual: one page of plain text a topic, for a rig tech in a hurry; tests run its examples."""

from __future__ import annotations

from importlib.resources import files

TOPICS: tuple[tuple[str, str], ...] = (
    ("start", "A first show in ten minutes"),
    ("show", "The show: legs and setlists"),
    ("rig", "The rig: a map of its devices"),
    ("definition", "The definition: what one model of box understands"),
    ("chart", "From a maker's MIDI chart to a definition"),
    ("carriers", "How a control's code travels"),
    ("programs", "Programs, panels and banks"),
    ("mutes", "What bangs, what flips, what resets"),
    ("song", "The song: scenes, and where they come"),
    ("values", "What may be said of a control"),
    ("tempo", "Tempo, meter and places"),
    ("vocabulary", "Entries and words"),
    ("layers", "What wins"),
    ("hands", "What the player moves"),
    ("spare", "One song on two rigs"),
    ("changes", "Changes for one leg or one rig"),
    ("legs", "From leg to leg, from rig to rig"),
    ("touring", "A smaller rig, another tuning, a finding that stays"),
    ("sending", "What is sent, and in what order"),
    ("proving", "Proved before it is played"),
    ("files", "What compile writes"),
    ("doors", "Before doors"),
    ("jobs", "The daily jobs, by example"),
    ("yaml", "How the files are written"),
    ("rehearsing", "Rehearsing: stepping through the songs"),
    ("pedals", "Pedals, time code and clock"),
    ("cautions", "Before anything is sent to a rig"),
)
"""Each page's topic and title, in reading order."""


def page(topic: str) -> str:
    """The page of a topic; KeyError where there is none."""
    if topic not in dict(TOPICS):
        raise KeyError(topic)
    return files(__name__).joinpath(f"{topic}.md").read_text(encoding="utf-8")
