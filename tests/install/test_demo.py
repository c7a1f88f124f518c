"""What scripts/demo prints before its proof, which every engine's own tests give at length."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

from engines_needed import need
from fresh_environment import ROOT
from tanksheet.recalc import ENGINES


@pytest.fixture
def demo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    monkeypatch.chdir(tmp_path)
    spec = importlib.util.spec_from_file_location("demo", ROOT / "scripts" / "lib" / "demo.py")
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_main_job(demo: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    need(ENGINES[demo.ENGINE])
    demo.build()
    flow = demo.zone_flow()
    demo.stock_tank(flow)
    demo.acid()
    demo.recipe()
    demo.at_the_pipe(flow)
    demo.co_op()
    said = capsys.readouterr().out
    # By hand: 5 US gal (18.927 L) in 25.1 s on average; 160 mg/L K from 46 % K2O, whose potassium
    # is 0.8301 of it, at 1:100 in 200 L.
    assert "45.24 L/min = 11.95 gpm" in said
    assert "8,380 g = 18 lb 7.6 oz of potassium nitrate" in said
    assert "verdict         pass" in said and "card            Tank A: pass" in said
    # By atomic weights: 40 mg/L P from KH2PO4 of 22.76 % P, 0.3 mg/L B from boric acid of 17.48 %,
    # for 10,000 L of feed.
    lines = [" ".join(line.split()) for line in said.splitlines()]
    assert "[ ] monopotassium phosphate 1.76 kg" in lines
    assert "[ ] boric acid 17.2 g" in lines
    assert "acid into water, never water into acid" in said
    assert "choose          pass: tunnels fits every zone and the duty" in said
    # By hand: 20 L over 0.181 L is 1:110.5, 0.5 % under 1:110; 485 mL of 50 L are 1:103.1, and
    # 100 x 100 / 103.1 is 97.0.
    assert "pass: true 1 : 110" in said
    assert "set it to       1:97.0 = 1.031 % until then" in said
    assert "Co-op: 7,633 rows read: 7,624 accepted, 9 rejected" in said
    assert "200 members" in said and "pooling saves" in said
