"""The wheel works bare: data, recipes and command are inside it, and one dose comes out."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]


def test_the_wheel_does_one_dose_with_its_own_data(tmp_path: Path) -> None:
    wheels = tmp_path / "wheels"
    build = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(wheels)]
    subprocess.run([*build, str(ROOT)], check=True, capture_output=True)
    (wheel,) = wheels.glob("*.whl")
    site = tmp_path / "site"
    install = [sys.executable, "-m", "pip", "install", "--quiet", "--no-deps", "--no-index"]
    subprocess.run([*install, "--target", str(site), str(wheel)], check=True, capture_output=True)
    mix = ["mix", "leaf-spray-quart", "--sprayer", "2 L", "--json"]
    done = subprocess.run(
        [sys.executable, "-m", "dosecalc", *mix],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(site)},
        capture_output=True,
        text=True,
        check=True,
    )
    assert json.loads(done.stdout)["recipe"]["id"] == "leaf-spray-quart"
    where = [sys.executable, "-c", "import dosecalc; print(dosecalc.__file__)"]
    found = subprocess.run(
        where, cwd=tmp_path, env={**os.environ, "PYTHONPATH": str(site)}, capture_output=True,
        text=True, check=True,
    )  # fmt: skip
    assert found.stdout.strip().startswith(str(site))
    assert (site / "dosecalc/recipes/boron-drench.toml").is_file()
