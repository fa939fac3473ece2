"""Makes the pictures of the workbooks that the README and the docs show.

Usage: python docs/make_pictures.py [NAME ...]   (needs LibreOffice and poppler-utils)

With `--all` every page is made, into the folder `pages`, to be looked at.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).parent
TEMPLATES = HERE.parent / "workbook_templates"
PICTURES = HERE / "pictures"
PAGES = HERE / "pages"
SHOWN = {
    "monthly_gas_usage": ("Start", "Balance", "Days"),
    "bulk_tank_reorder": ("Start", "Plan", "Risk"),
    "argon_nitrogen_cost": ("Start", "Compare"),
    "vent_fill_purity": ("Start", "Cycles", "Point of use"),
    "leak_dewpoint_log": ("Start", "One vessel", "Leak or outgassing"),
    "reservoir_line_sizing": ("Start", "Course", "Reservoir"),
    "reservoir_commissioning": ("Start", "Release", "Evacuation"),
    "delivery_check": ("Start", "Suppliers"),
    "supply_offers": ("Start", "Amounts"),
}
"""The sheets that are shown, by workbook."""

DOTS_PER_INCH = "80"


def pdf_of(book: Path, folder: Path) -> Path:
    """The workbook printed by LibreOffice, with a profile of its own."""
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    subprocess.run(
        ["soffice", "--headless", profile, "--convert-to", "pdf", "--outdir", folder, book],
        check=True, timeout=180, stdout=subprocess.DEVNULL,
    )  # fmt: skip
    return folder / f"{book.stem}.pdf"


def sheet_of_page(pdf: Path, page: int) -> str:
    """The sheet's name, which stands at the right of the page's header; "" past the end."""
    command = ["pdftotext", "-f", str(page), "-l", str(page), "-layout", pdf, "-"]
    text = subprocess.run(command, capture_output=True, text=True, check=False).stdout
    lines = [line for line in text.splitlines() if line.strip()]
    return re.split(r"\s{2,}", lines[0].strip())[-1] if lines else ""


def picture(pdf: Path, page: int, path: Path) -> None:
    """One page as a PNG file."""
    subprocess.run(
        ["pdftoppm", "-r", DOTS_PER_INCH, "-f", str(page), "-l", str(page), "-png",
         "-singlefile", pdf, path.with_suffix("")],
        check=True, timeout=120,
    )  # fmt: skip


def make(book: Path, every_page: bool) -> None:
    """The pictures of one workbook: the first page of each sheet shown, or all pages."""
    with tempfile.TemporaryDirectory() as folder:
        pdf = pdf_of(book, Path(folder))
        seen: set[str] = set()
        page = 1
        while sheet := sheet_of_page(pdf, page):
            if every_page:
                picture(pdf, page, PAGES / f"{book.stem}-{page:02}.png")
            elif sheet in SHOWN[book.stem] and sheet not in seen:
                picture(pdf, page, PICTURES / f"{book.stem}-{sheet.lower().replace(' ', '-')}.png")
            seen.add(sheet)
            page += 1


def main(arguments: list[str]) -> None:
    """Pictures of the workbooks named, or of all."""
    every_page = "--all" in arguments
    names = [argument for argument in arguments if argument != "--all"]
    (PAGES if every_page else PICTURES).mkdir(exist_ok=True)
    for book in sorted(TEMPLATES.glob("*.xlsx")):
        if not names or book.stem in names:
            make(book, every_page)


if __name__ == "__main__":
    main(sys.argv[1:])
