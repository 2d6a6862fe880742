"""A product of one's own copied into the part one stands on."""

from pathlib import Path

from tests.ui.conftest import EXAMPLES


async def test_a_key_copies_a_product_and_undo_takes_it_back(screens, hallway: Path, folder: Path) -> None:
    (folder / "products.toml").write_bytes((EXAMPLES / "products.toml").read_bytes())
    async with screens(hallway, (120, 40)) as page:
        await page.stand_on("box.wall 1.volume")
        before = page.working.bench.document.text
        await page.press("t", "r")
        await page.type("single-gang")
        await page.press("enter")
        assert page.working.bench.part.data["product"] == "single-gang remodel box, 16 in^3"
        assert "wall 1 is single-gang remodel box" in page.words
        await page.press("z")
        assert page.working.bench.document.text == before


async def test_without_products_it_is_said(screens, hallway: Path) -> None:
    async with screens(hallway, (120, 40)) as page:
        await page.press("r")
        assert "There is no products.toml beside the circuit file." in page.words
