"""Write the sample inventory anew: python tests/sample_fleet/build.py [FOLDER]."""

import sys
from pathlib import Path

import circuits
import coast
import northmarch
import vale
import works
from answers import readme
from workbook import write_register

REGISTERS = (northmarch.REGISTER, vale.REGISTER, coast.REGISTER, works.REGISTER, circuits.REGISTER)
FOLDER = Path(__file__).resolve().parents[2] / "sample_inventory"


def main(folder: Path) -> None:
    """Write every register and the README with the answer key."""
    folder.mkdir(parents=True, exist_ok=True)
    for register in REGISTERS:
        write_register(register, folder)
    (folder / "README.md").write_text(readme(REGISTERS), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else FOLDER)
