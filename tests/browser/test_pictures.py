"""Pages of the sound book as pictures, beside those kept: a shift that no other test names is seen here.

The sound book changes only with its tests, so new records do not move these pages. Pictures are small and grey, and
compared with room for the grain of another font renderer. Where a change is meant, SHEARPIN_NEW_PICTURES=1 keeps new
ones; look at them before they are committed.
"""

from __future__ import annotations

import io
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageFilter
from playwright.sync_api import Page

from tests.browser.harness import DESKTOP, PHONE
from tests.sound_book import lay_over

ROOT = Path(__file__).resolve().parents[2]
KEPT = ROOT / "tests" / "data" / "pictures"
SMALLER = 3
DARKER = 40  # of 255: a grain of difference in the edge of a letter is less
SHARE = 0.004  # of a picture
SETTINGS = f"""site_name: Pictures
docs_dir: kb/pages
use_directory_urls: false
theme: {{name: material, custom_dir: {(ROOT / "site_overrides").as_posix()}, font: false, favicon: look/favicon.svg}}
plugins: [shearpin: {{kb: kb}}]
nav: [Writing records: writing-records.md]
"""
PICTURES = {
    "front": ("index.html", "", DESKTOP),
    "procedure": ("procedures/replace-auger-shear-bolt.html", "#machine=brook-d24", DESKTOP),
    "procedure-dark": ("procedures/replace-auger-shear-bolt.html", "#machine=brook-d24&theme=dark", DESKTOP),
    "symptom-narrow": ("symptoms/one-side-of-auger-does-not-turn.html", "", PHONE),
    "value-narrow": ("values/auger-shear-bolt.torque.html", "#machine=brook-t28", PHONE),
}


@pytest.fixture(scope="module")
def small_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site of the sound book."""
    folder = tmp_path_factory.mktemp("pictures")
    lay_over(folder, {"pages/writing-records.md": "# Writing records\n"})
    (folder / "mkdocs.yml").write_text(SETTINGS, encoding="utf-8")
    command = [sys.executable, "-m", "mkdocs", "build", "--quiet"]
    subprocess.run(command, cwd=folder, check=True, env={**os.environ, "NO_MKDOCS_2_WARNING": "1"})
    return folder / "site"


def picture(page: Page) -> Image.Image:
    """Return what the window shows, grey and smaller."""
    seen = Image.open(io.BytesIO(page.screenshot(animations="disabled", caret="hide"))).convert("L")
    return seen.resize((seen.width // SMALLER, seen.height // SMALLER), Image.Resampling.BOX)


def difference(one: Image.Image, other: Image.Image) -> float:
    """Return the share of a picture that is clearly darker or lighter in the other."""
    if one.size != other.size:
        return 1.0
    soft = [image.filter(ImageFilter.BoxBlur(1)) for image in (one, other)]
    counts = ImageChops.difference(*soft).histogram()
    return sum(counts[DARKER:]) / sum(counts)


@pytest.mark.parametrize("name", PICTURES)
def test_a_page_looks_as_it_did(open_page: Callable[..., Page], small_site: Path, name: str) -> None:
    path, place, size = PICTURES[name]
    page = open_page(size=size)
    page.goto((small_site / path).as_uri() + place)
    page.evaluate("document.fonts.ready.then(() => true)")
    now = picture(page)
    kept = KEPT / f"{name}.png"
    if os.environ.get("SHEARPIN_NEW_PICTURES") == "1":
        now.quantize(16).save(kept, optimize=True)
    assert difference(now, Image.open(kept).convert("L")) < SHARE


def test_a_shift_of_a_few_pixels_is_seen(open_page: Callable[..., Page], small_site: Path) -> None:
    path, place, size = PICTURES["procedure"]
    page = open_page(size=size)
    page.goto((small_site / path).as_uri() + place)
    before = picture(page)
    assert difference(before, picture(page)) == 0
    page.evaluate("document.querySelector('h1').style.marginTop = '9px'")
    assert difference(before, picture(page)) > SHARE
