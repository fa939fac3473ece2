"""Makes the pictures of the workbooks that the README and the docs show.

Usage: python docs/make_pictures.py [NAME ...]   (needs LibreOffice and poppler-utils)
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).parent
TEMPLATES = HERE.parent / "workbook_templates"
PICTURES = HERE / "pictures"
SHEETS_SHOWN = 40
DOTS_PER_INCH = 80


def make(book: Path, folder: Path) -> None:
    """One picture a page of one workbook, as NAME-01.png and so on."""
    subprocess.run(
        ["soffice", "--headless", f"-env:UserInstallation={(folder / 'profile').as_uri()}",
         "--convert-to", "pdf", "--outdir", str(folder), str(book)],
        check=True, timeout=180, stdout=subprocess.DEVNULL,
    )  # fmt: skip
    subprocess.run(
        ["pdftoppm", "-r", str(DOTS_PER_INCH), "-l", str(SHEETS_SHOWN), "-png",
         str(folder / f"{book.stem}.pdf"), str(PICTURES / book.stem)],
        check=True, timeout=120,
    )  # fmt: skip


def main(names: list[str]) -> None:
    """Pictures of the workbooks named, or of all."""
    PICTURES.mkdir(exist_ok=True)
    for book in sorted(TEMPLATES.glob("*.xlsx")):
        if not names or book.stem in names:
            with tempfile.TemporaryDirectory() as folder:
                make(book, Path(folder))


if __name__ == "__main__":
    main(sys.argv[1:])
