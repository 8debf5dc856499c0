"""What the tests of the proof share: a show over every carrier, and a proof as short lines."""

from __future__ import annotations

from functools import cache

from switchmatrix.cli.proving import counterexample
from switchmatrix.compile.known import reach
from switchmatrix.proof.bench import Bench, Wire, untouched
from switchmatrix.proof.device import prove_device
from switchmatrix.proof.muted import Muting
from switchmatrix.proof.report import Counterexample
from switchmatrix.proof.run import prove, scenes_of
from switchmatrix.states.show import Run
from switchmatrix.states.state import DeviceState
from tests.support import findings, judged

SHOW = "show: Tidewrack\nrigs: [a-rig]\nlegs: {tour: {rigs: [a-rig], setlist: [lantern]}}\n"

EVERY_CARRIER = {
    "show.yaml": SHOW,
    "definitions/echo.yaml": """\
definition: echo
programs: {count: 300, first: 0, bank: both, bank-when: change, settle: 35 ms, repeat: recalls}
controls:
  engage: {kind: switch, cc: 80, main: yes}
  mix: {kind: level, cc: 21, range: [0, 127], stored: yes}
  time: {kind: time, cc14: [12, 44], range: [0 ms, 2000 ms], codes: [0, 2000], stored: yes}
""",
    "definitions/reverb.yaml": """\
definition: reverb
programs: {count: 300, first: 0, bank: cc32, bank-when: always, bank-size: 100, repeat: nothing}
controls:
  decay: {kind: level, cc: 22, range: [0, 127], stored: yes}
  engage: {kind: switch, cc: 80, main: yes}
""",
    "definitions/amp.yaml": """\
definition: amp
controls:
  channel: {kind: choice, cc: 30, values: {clean: 0, lead: 1}, resets: [gain]}
  gain: {kind: level, nrpn: [1, 8], data: 14, close: yes, range: [0, 16383]}
  tone: {kind: level, rpn: [0, 2], data: 7, close: no, range: [0, 127]}
  boost: {kind: switch, cc: 90, toggle: {press: 127, release: 0}, powers-up: off}
""",
    "definitions/synth.yaml": """\
definition: synth
controls:
  wave: {kind: choice, note: 60, release: yes, values: {calm: 1-64, high: 65-127}}
  bend: {kind: level, pitch-bend: yes, range: [-100 %, 100 %], centre: 8192}
  press: {kind: level, channel-pressure: yes, range: [0, 127]}
  body: {kind: level, range: [0, 127], sysex: {body: [0x7D, id, 1, value, checksum], checksum: [3, 4]}}
  tilt: {kind: level, range: [0, 16383], sysex: {body: [0x7D, 2, value-lsb, value-msb], signed: yes}}
  relay: {kind: choice, program: yes, values: {left: 90, right: 91}}
""",
    "rigs/a-rig.yaml": """\
rig: A rig
ports: {rack: {out: rack, speed: din}}
devices:
  echo: {port: rack, channel: 1, definition: echo, patches: {slap: {at: 4, stores: {mix: 9}}, cliff: 200}}
  reverb:
    port: rack
    channel: 2
    definition: reverb
    patches: {room: {at: 7, stores: {decay: 3}}, hall: {at: 207, stores: {decay: 100}}}
  amp: {port: rack, channel: 3, definition: amp}
  synth: {port: rack, channel: 4, id: 5, definition: synth}
home:
  echo: {engage: off, patch: slap}
  reverb: {engage: off, patch: room}
  amp: {channel: clean, gain: 200, tone: 1, boost: off}
  synth: {wave: calm, bend: 0 %, press: 0, body: 4, tilt: 8192, relay: left}
""",
    "lantern.yaml": """\
song: Lantern
scenes:
  verse: {}
  chorus:
    echo: {engage: on, patch: cliff, time: 700 ms}
    reverb: {engage: on, decay: 50}
    amp: {channel: lead, tone: 2}
    synth: {wave: high, press: 5, tilt: 9}
  bridge:
    echo: {engage: on, time: 701 ms, mix: 30}
    reverb.patch: hall
    amp: {gain: 201, boost: on}
    synth: {bend: 50 %, body: 5, relay: right}
""",
}
"""Four boxes: bank select of both kinds, 14-bit pairs, parameters, a toggle, notes, system exclusive."""


def run_of(files: dict[str, str]) -> Run:
    """The first leg of a sound show on its first rig."""
    show = judged(files, base=None)
    assert show.sound, "\n".join(findings(show))
    return show.worked_out.runs[0]


@cache
def every_carrier() -> Run:
    """The show above."""
    return run_of(EVERY_CARRIER)


def failed(run: Run, wire: Wire = untouched, *, every_pair: bool = False) -> list[str]:
    """Each counterexample as one line."""
    return [line(run, counter) for counter in prove(run, wire, every_pair=every_pair).failed]


def line(run: Run, counter: Counterexample) -> str:
    """A counterexample, its lines joined."""
    return "; ".join(part.strip() for part in counterexample(counter, run.rig))


def device_fails(run: Run, name: str, wire: Wire, *, every_pair: bool = False) -> bool:
    """Whether the proof of one device finds something."""
    device = next(d for d in run.rig.devices if d.name == name)
    scenes = scenes_of(run)
    states: dict[object, tuple[str, DeviceState]] = {}
    for label, state in scenes:
        here = next(d for d in state.devices if d.device.name == name)
        states.setdefault(here.key, (label, here))
    bench = Bench(device, wire)
    muting = Muting(run.rig, bench, [state for _, state in scenes])
    reached = reach(run.rig, device)
    return bool(prove_device(bench, tuple(states.values()), reached, muting, every_pair=every_pair).failed)
