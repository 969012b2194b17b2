"""Logo and picture: inside the folder, stripped, bounded."""

import base64
import io
from pathlib import Path

import pytest
from PIL import Image

from divert.report.paper.pictures import load


def _bytes(address: str) -> bytes:
    return base64.b64decode(address.split(",", 1)[1])


def test_a_photograph_is_brought_to_size_and_loses_its_camera_data(tmp_path: Path) -> None:
    exif = Image.Exif()
    exif[0x8825] = {1: "N", 2: (47.0, 36.0, 0.0)}  # where it was taken (EXIF 2.3, GPS IFD)
    Image.new("RGB", (4000, 3000), "green").save(tmp_path / "yard.jpg", exif=exif)
    picture, problem = load(tmp_path, "yard.jpg", "picture")
    assert problem is None and picture is not None
    assert (picture.width, picture.height) == (1800, 1350)
    with Image.open(io.BytesIO(_bytes(picture.address))) as shown:
        assert not shown.getexif()


def test_a_drawing_keeps_its_shapes_and_loses_all_that_acts_or_fetches(tmp_path: Path) -> None:
    (tmp_path / "logo.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        'viewBox="0 0 20 10" onload="x()"><script>x()</script><style>*{background:url(//x)}</style>'
        '<image href="file:///etc/passwd"/><foreignObject/><use xlink:href="http://x.example/a#b"/>'
        '<rect width="20" height="10" style="fill:#123456;background:url(//x.example)"/>'
        '<circle r="3" fill="url(http://x.example)"/></svg>'
    )
    picture, problem = load(tmp_path, "logo.svg", "logo")
    assert problem is None and picture is not None
    assert (picture.width, picture.height) == (20, 10)
    kept = _bytes(picture.address).decode()
    assert "rect" in kept and "#123456" in kept and "circle" in kept
    for gone in ("script", "style", "image", "foreign", "onload", "url(", "x.example", "<use"):
        assert gone not in kept


@pytest.mark.parametrize(
    "entity", ["<!ENTITY a 'aaaa'>", "<!ENTITY a SYSTEM 'file:///etc/passwd'>"]
)
def test_a_drawing_with_entities_is_refused(tmp_path: Path, entity: str) -> None:
    (tmp_path / "logo.svg").write_text(
        f'<!DOCTYPE svg [{entity}]><svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1">&a;</svg>'
    )
    picture, problem = load(tmp_path, "logo.svg", "logo")
    assert picture is None and problem is not None


def test_a_link_out_of_the_folder_is_refused(tmp_path: Path) -> None:
    site = tmp_path / "site"
    site.mkdir()
    Image.new("RGB", (8, 8)).save(tmp_path / "secret.png")
    (site / "logo.png").symlink_to(tmp_path / "secret.png")
    for name in ("logo.png", "../secret.png", str(tmp_path / "secret.png")):
        picture, problem = load(site, name, "logo")
        assert picture is None and problem is not None
        assert "outside" in str(problem) or "out of the site folder" in str(problem)


@pytest.mark.parametrize("name", ["missing.png", "notes.png", "bomb.png"])
def test_what_is_no_picture_costs_one_sentence(tmp_path: Path, name: str) -> None:
    (tmp_path / "notes.png").write_text("not a picture")
    # A PNG header that claims 60,000 by 60,000 pixels.
    good = io.BytesIO()
    Image.new("L", (1, 1)).save(good, "PNG")
    data = bytearray(good.getvalue())
    data[16:24] = (60_000).to_bytes(4, "big") * 2
    (tmp_path / "bomb.png").write_bytes(bytes(data))
    picture, problem = load(tmp_path, name, "logo")
    assert picture is None
    assert "the reports go without it" in str(problem)


SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 20 10">'


@pytest.mark.parametrize(("tag", "cut"), [("mask", "mask"), ("clipPath", "clip-path")])
def test_masks_of_masks_are_not_drawn(tmp_path: Path, tag: str, cut: str) -> None:
    """Eight masks of ten shapes, each shape cut by the next mask, would be ten million drawings."""
    shape = '<rect width="9" height="9" {}="url(#m{})"/>'
    nest = "".join(f'<{tag} id="m{n}">{shape.format(cut, n + 1) * 10}</{tag}>' for n in range(8))
    (tmp_path / "logo.svg").write_text(f"{SVG}{nest}{shape.format(cut, 0)}</svg>")
    picture, problem = load(tmp_path, "logo.svg", "logo")
    assert problem is None and picture is not None
    assert _bytes(picture.address).decode().count("url(#") == 1


def test_a_gradient_is_not_repeated_without_end(tmp_path: Path) -> None:
    (tmp_path / "logo.svg").write_text(
        f'{SVG}<linearGradient id="a" spreadMethod="repeat" x2="0.0000001"/></svg>'
    )
    picture, _ = load(tmp_path, "logo.svg", "logo")
    assert picture is not None
    assert "repeat" not in _bytes(picture.address).decode()


@pytest.mark.parametrize(
    "shapes",
    [
        "<rect/>" * 5_001,
        f"<mask id='m'>{'<rect/>' * 1000}</mask>" + "<rect mask='url(#m)'/>" * 1000,
        f"<path d='{'M0 0L1 1' * 150_000}'/>",
        "<g>" * 10_000 + "</g>" * 10_000,
    ],
)
def test_a_drawing_that_takes_long_to_draw_is_refused(tmp_path: Path, shapes: str) -> None:
    (tmp_path / "logo.svg").write_text(f"{SVG}{shapes}</svg>")
    picture, problem = load(tmp_path, "logo.svg", "logo")
    assert picture is None and "without it" in str(problem)


def test_a_logo_may_have_many_clips(tmp_path: Path) -> None:
    shapes = "".join(
        f'<clipPath id="c{n}"><rect/></clipPath><g clip-path="url(#c{n})"><path d="M0 0L1 1"/></g>'
        for n in range(90)
    )
    (tmp_path / "logo.svg").write_text(f"{SVG}{shapes}</svg>")
    picture, problem = load(tmp_path, "logo.svg", "logo")
    assert problem is None and picture is not None
    assert _bytes(picture.address).decode().count("url(#c") == 90
