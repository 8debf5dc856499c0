"""Hazards: a show that could reach one does not compile, and nothing turns that off."""

from __future__ import annotations

from pathlib import Path

import click
import pytest

from switchmatrix.cli import switchmatrix
from switchmatrix.pipeline import Judged
from tests.cli.kit import Ran, run
from tests.compile.rigs import files_of, rig_show
from tests.compile.shown import wire
from tests.support import findings, judged, names

KINDS = (
    "pyrotechnics",
    "flame",
    "gas effects",
    "smoke and haze",
    "lasers",
    "strobes",
    "flying",
    "hoists",
    "moving scenery",
    "mains relays",
    "speaker-load switching",
    "amplifier standby",
)
BELONGS = (
    "take it out of the rig: such effects belong to persons licensed or competent as local law requires, "
    "with interlocks and an emergency stop of their own"
)
FIRE = "jets: {port: rack, channel: 7, definition: fire-box}"
BOX = "hazard: %s\ncontrols: {jet: {kind: trigger, note: 60}}"
ECHO = "echo: {port: rack, channel: 3, definition: echo-box}"
PLAIN = {"echo-box": "controls:\n  mix: {kind: level, cc: 21, range: [0, 127]}\n"}


@pytest.mark.parametrize("kind", KINDS)
def test_a_rig_with_a_hazard_device_does_not_compile_and_hears_whom_it_belongs_to(kind: str) -> None:
    show = rig_show(f"{ECHO}\n{FIRE}", {**PLAIN, "fire-box": BOX % kind}, "  verse: {echo.mix: 1}\n")
    assert findings(show) == [
        f"rigs/a-rig.yaml:5:3: error hazard: `jets` is a hazard ({kind}): nothing is compiled for it or sent "
        "to it"
    ]
    assert [d.help for d in show.found] == [BELONGS]
    assert not show.sound


def controlled(more: str, scenes: str, extra: str = "", device: str = ECHO) -> Judged:
    """An echo with a hazardous control `relay` among its own."""
    return rig_show(device, {"echo-box": PLAIN["echo-box"] + more}, scenes, extra)


RELAY = "  relay: {kind: switch, cc: 40, hazard: mains relays}\n"
SAID = "`echo.relay` is a hazard (mains relays): nothing is compiled for it or sent to it"


def test_a_scene_that_names_a_hazardous_control_does_not_compile() -> None:
    show = controlled(RELAY, "  verse: {echo: {mix: 1, relay: on}}\n")
    assert findings(show) == [f"lantern.yaml:3:33: error hazard: {SAID}"]
    assert [d.help for d in show.found] == [BELONGS]


@pytest.mark.parametrize("value", ["on", "off", "leave", "home", "as stored"])
def test_no_value_of_a_hazardous_control_is_harmless(value: str) -> None:
    show = controlled(RELAY, f"  verse: {{echo.mix: 1, echo.relay: {value}}}\n")
    assert findings(show) == [f"lantern.yaml:3:36: error hazard: {SAID}"]


@pytest.mark.parametrize(
    "extra",
    [
        "home: {echo.relay: on}",
        "vocabulary: {dark: {full: {echo.relay: on}}}",
        "standing: {silence: {echo.relay: off}}",
        "instruments: {lute: {sets: {echo.relay: on}}}",
        "changes: {lantern: {base: {echo.relay: on}}}",
        "mutes: [{while: [echo.mix], hold: {echo.relay: on}}]",
    ],
)
def test_no_part_of_a_rig_brings_a_hazardous_control_in(extra: str) -> None:
    show = controlled(RELAY, "  verse: {echo.mix: 1}\n", extra)
    assert {d.name for d in show.found if d.severity == "error"} == {"hazard"}


def test_a_hazardous_control_that_nobody_names_is_never_sent() -> None:
    show = controlled(RELAY, "  verse: {echo.mix: 1}\n")
    assert names(show) == []
    assert wire(show, "verse") == ["echo B2 15 01"]


def test_a_hazardous_trigger_does_not_fire() -> None:
    show = controlled(
        "  jet: {kind: trigger, cc: 41, hazard: flame}\n", "  verse: {echo: {mix: 1, jet: now}}\n"
    )
    assert names(show) == ["hazard lantern.yaml:3"]


def test_a_hazardous_toggle_is_not_to_be_set_by_hand_either(tmp_path: Path) -> None:
    relay = (
        "  relay: {kind: switch, cc: 40, toggle: {press: 1, release: none}, powers-up: off, hazard: hoists}\n"
    )
    files = files_of(ECHO, {"echo-box": PLAIN["echo-box"] + relay}, "  verse: {echo.mix: 1}\n")
    assert "set by hand" not in run("messages", laid(tmp_path, files), "lantern", "verse").out


def test_a_hazardous_control_that_a_patch_stores_makes_its_device_a_hazard() -> None:
    more = (
        RELAY.replace("cc: 40", "cc: 40, stored: yes") + "programs: {count: 8, first: 1, repeat: recalls}\n"
    )
    assert names(controlled(more, "  verse: {echo.mix: 1}\n")) == ["hazard rigs/a-rig.yaml:4"]


def test_a_hazardous_control_that_a_choice_reloads_is_refused() -> None:
    more = RELAY + "  mode: {kind: choice, cc: 30, values: {a: 0, b: 1}, resets: [relay]}\n"
    assert names(controlled(more, "  verse: {echo.mix: 1}\n"))[0] == "hazard definitions/echo-box.yaml:5"


def test_a_hazardous_switch_that_a_repeated_program_flips_makes_its_device_a_hazard() -> None:
    more = RELAY + "programs: {count: 8, first: 1, repeat: toggles relay}\n"
    device = ECHO.replace("}", ", patches: {a: 1}}")
    show = controlled(more, "  verse: {echo: {patch: a, mix: 1}}\n", device=device)
    assert names(show) == ["hazard rigs/a-rig.yaml:4"]


@pytest.mark.parametrize("also", ["", ", also-cc: [22]"])
def test_another_boxs_message_that_would_move_a_hazardous_control_is_an_error(also: str) -> None:
    more = f"  relay: {{kind: switch, cc: {40 if also else 22}, hazard: flame{also}}}\n"
    devices = f"{ECHO}\nhall: {{port: rack, channel: 3, definition: hall-box}}"
    definitions = {
        "echo-box": PLAIN["echo-box"] + more,
        "hall-box": "controls: {decay: {kind: level, cc: 22, range: [0, 127]}}",
    }
    show = rig_show(devices, definitions, "  verse: {echo.mix: 1, hall.decay: 2}\n")
    assert names(show) == ["channel-clash rigs/a-rig.yaml:4"]


def test_an_absent_hazard_is_not_passed_on_where_the_rig_has_not_got_it() -> None:
    other = """
rig: B rig
ports: {rack: {out: rack, speed: din}}
devices: {echo: {port: rack, channel: 1, definition: echo-box}}
absent: {jets: fire-box}
vocabulary: {jets.jet: nothing}
"""
    files = files_of(
        f"{ECHO}\n{FIRE}", {**PLAIN, "fire-box": BOX % "flame"}, "  verse: {echo.mix: 1, jets.jet: now}\n"
    )
    files["rigs/b-rig.yaml"] = other
    files["show.yaml"] = files["show.yaml"].replace("[a-rig]", "[b-rig]")
    assert "hazard" in {d.name for d in judged(files, base=None).found if d.severity == "error"}


def laid(folder: Path, files: dict[str, str]) -> Path:
    """A show in a folder."""
    for path, text in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_text(text, encoding="utf-8")
    return folder


GIVEN = {
    "song": "lantern",
    "scene": "verse",
    "leg": "tour",
    "rig": "a-rig",
    "after": "verse",
    "smf_format": "0",
}
"""What arguments and options are given that take a value."""


def ways() -> list[tuple[str, ...]]:
    """Every command that reads a show, alone and with each value of each of its options.

    Not `check --watch`, which goes on until it is stopped.
    """
    out: list[tuple[str, ...]] = []
    with click.Context(switchmatrix) as context:
        for name in switchmatrix.list_commands(context):
            command = switchmatrix.get_command(context, name)
            params = command.params if command is not None else []
            if not any(p.name == "show" and p.required for p in params):
                continue
            arguments = [GIVEN[p.name] for p in params if isinstance(p, click.Argument) and p.name in GIVEN]
            out.append((name, *arguments))
            for option in params:
                if isinstance(option, click.Option) and option.name not in ("help", "watch", "out"):
                    out += [(name, *arguments, *flag) for flag in flags(option)]
    return out


def flags(option: click.Option) -> list[list[str]]:
    """The option with each of its values."""
    if option.is_flag:
        return [[text] for text in (*option.opts, *option.secondary_opts)]
    if isinstance(option.type, click.Choice):
        return [[option.opts[0], str(choice)] for choice in option.type.choices]
    return [[option.opts[0], *[GIVEN.get(str(option.name), "2")] * option.nargs]]


def attempt(folder: Path, way: tuple[str, ...], files: dict[str, str]) -> Ran:
    """The command, run on the show; where it can write, into `folder`."""
    name, *rest = way
    out = ["--out", str(folder / "out")] if name == "compile" else []
    return run(name, laid(folder / "show", files), *rest, *out)


LOOKS_ON = {("stages", "--stage", stage) for stage in ("nodes", "model", "states")} | {("stages",)}
"""Ways that print what the files say and compile nothing."""


@pytest.mark.parametrize("way", ways(), ids=" ".join)
def test_no_command_and_no_flag_compiles_a_hazard(tmp_path: Path, way: tuple[str, ...]) -> None:
    scene = "  verse: {echo.mix: 1, jets.jet: now}\n"
    files = files_of(f"{ECHO}\n{FIRE}", {**PLAIN, "fire-box": BOX % "flame"}, scene)
    ran = attempt(tmp_path, way, files)
    said = ran.out + ran.err
    assert ran.code in (1, 2) or way in LOOKS_ON
    assert [text for text in ("96 3C", "963C", "B2 15", "B215") if text in said] == []
    assert [p for p in tmp_path.rglob("*") if p.suffix in (".mid", ".csv", ".txt")] == []


def test_every_flag_of_every_command_that_reads_a_show_is_among_those_tried() -> None:
    tried = {(way[0], part) for way in ways() for part in way if part.startswith("--")}
    assert {("check", "--strict"), ("compile", "--no-prove"), ("messages", "--format")} <= tried
    assert {("send", "--yes"), ("send", "--share"), ("send", "--dry-run"), ("line-check", "--yes")} <= tried


@pytest.mark.parametrize(
    "setting",
    [
        "accept: [{name: hazard, where: rigs/a-rig.yaml, because: the crew looks after it}]",
        "hazards: yes",
        "strict: no",
        "prove: no",
    ],
)
def test_no_setting_of_a_show_compiles_a_hazard(setting: str) -> None:
    files = files_of(f"{ECHO}\n{FIRE}", {**PLAIN, "fire-box": BOX % "flame"}, "  verse: {echo.mix: 1}\n")
    files["show.yaml"] += setting + "\n"
    show = judged(files, base=None)
    assert not show.sound
    assert "hazard rigs/a-rig.yaml:5" in names(show)


@pytest.mark.parametrize("setting", ["hazard: no", "accept: [hazard]", "licensed: yes", "interlock: yes"])
def test_no_setting_of_a_device_makes_a_hazard_of_it_harmless(setting: str) -> None:
    device = FIRE.replace("}", f", {setting}}}")
    show = rig_show(f"{ECHO}\n{device}", {**PLAIN, "fire-box": BOX % "flame"}, "  verse: {echo.mix: 1}\n")
    assert "hazard rigs/a-rig.yaml:5" in names(show)


@pytest.mark.parametrize("text", ["no", "off", "false", "none", "0", "''"])
def test_a_hazard_is_one_whatever_its_text_says(text: str) -> None:
    show = rig_show(f"{ECHO}\n{FIRE}", {**PLAIN, "fire-box": BOX % text}, "  verse: {echo.mix: 1}\n")
    assert not show.sound
