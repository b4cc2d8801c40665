"""Fit, advice and sheet: the same numbers in Python as in the core, and a page that stands on its own."""

import html.parser
import itertools
import json
import pickle
import re
from pathlib import Path

import numpy as np
import pytest

import wheelrate as wr

SYSTEMS = ["metric", "kilogram-force", "inch"]


@pytest.fixture(scope="module")
def bike():
    return wr.demo()


def test_the_fit_has_a_number_with_uncertainty_for_each_unknown(bike):
    for end, fit in bike.fit().items():
        assert fit.end == end
        for number in (fit.rate, fit.preload, fit.friction, *fit.springs):
            assert number.standard_uncertainty.m > 0
        assert fit.correlation.shape == (3, 3)
        np.testing.assert_allclose(np.diag(fit.correlation), 1.0, rtol=1e-12)
        assert all(0 <= share.m_as("percent") <= 100 for share in fit.from_readings.values())
        assert [load.load for load in fit.loads] == ["bike", "bike + rider"]


def test_a_fitted_load_rests_where_the_wheel_force_equals_it(bike):
    fit = bike.fit_end("rear")
    change = fit.preload.value - bike.rear.shock.spring.preload
    as_fitted = bike.rear.with_spring_change(fit.rate_factor.value.m_as(""), change)
    for load in fit.loads:
        assert as_fitted.wheel_force(load.sag.value).m_as("N") == pytest.approx(load.fitted.value.m_as("N"), rel=1e-9)


def test_results_pickle(bike):
    advice = bike.advise_end("rear")
    for result in (bike.fit_end("front"), advice, bike.sheet("inch")):
        assert pickle.loads(pickle.dumps(result)) == result


def test_the_choice_advised_is_one_of_those_weighed(bike):
    for advice in bike.advise().values():
        assert advice.advised is None or advice.advised in advice.choices
        assert [choice.is_fitted for choice in advice.choices].count(True) == 1
        # Another spring costs 10 points, the collar 2: best first by chance less price.
        prices = [(2 if choice.is_fitted else 10) for choice in advice.choices]
        net = [choice.probability.m_as("percent") - price for choice, price in zip(advice.choices, prices, strict=True)]
        # Where nothing lands at all, rows of under a thousandth of a percent stand by the sag.
        assert all(one >= other - 1e-3 for one, other in itertools.pairwise(net) if max(one, other) > 0)
        assert advice.headline()
        assert advice.reasons()


@pytest.mark.parametrize("units", SYSTEMS)
def test_the_sheet_says_the_same_in_any_units(bike, units):
    sheet = json.loads(bike.sheet(units).to_json())
    metric = json.loads(bike.sheet().to_json())
    symbols = wr.unit_symbols(units)
    for end, reference in zip(sheet["ends"], metric["ends"], strict=True):
        assert end["verdict"] == reference["verdict"]
        for row, other in zip(end["springs"]["rows"], reference["springs"]["rows"], strict=True):
            assert row[0]["unit"] == symbols["spring rate"]
            here = wr.quantity((row[0]["value"], row[0]["unit"]), "spring rate")
            assert here.m == pytest.approx(other[0]["value"], rel=1e-12)


def test_unknown_units_and_ends_are_refused(bike):
    with pytest.raises(wr.UnitError, match="furlong"):
        bike.sheet("furlong")
    with pytest.raises(wr.errors.BikeError, match="middle"):
        bike.fit_end("middle")


class Page(html.parser.HTMLParser):
    """Takes a page apart: tags that were opened, words, and whatever is fetched from elsewhere."""

    VOID = frozenset({"meta", "link", "img", "br", "hr", "path", "circle"})

    def __init__(self, text):
        super().__init__()
        self.open, self.tags, self.words, self.outside = [], [], [], []
        self.feed(text)

    def handle_starttag(self, tag, attributes):
        self.tags.append(tag)
        if tag not in self.VOID:
            self.open.append(tag)
        self.outside += [value for name, value in attributes if name in ("src", "href") and value]

    def handle_endtag(self, tag):
        if tag not in self.VOID:
            assert self.open.pop() == tag

    def handle_data(self, data):
        self.words.append(data)


@pytest.mark.parametrize("units", SYSTEMS)
def test_the_page_stands_on_its_own_and_says_all_that_the_sheet_says(bike, units):
    sheet = bike.sheet(units)
    page = Page(sheet.to_html())
    assert page.open == []
    assert page.outside == []
    assert "script" not in page.tags
    assert "url(" not in sheet.to_html()
    assert page.tags.count("svg") >= 2 * len(bike.ends)
    words = re.sub(r"\s+", " ", " ".join(page.words))
    data = json.loads(sheet.to_json())
    for end in data["ends"]:
        sentences = [end["headline"], *end["reasons"], *(finding["text"] for finding in end["findings"]), *end["next"]]
        sentences += [said for said in end["glance"].values() if said]
        for sentence in sentences:
            for part in sentence.split("`"):
                assert part.strip() in words
        tables = [end["form"]["table"], *(end[name] for name in ("springs", "consequences", "sags", "readings"))]
        entries = [entry for table in tables for row in table["rows"] for entry in row]
        for entry in [*entries, *(line["entry"] for line in [*end["fit"], *end["inputs"]])]:
            assert entry["text"] in words
    for caution in data["cautions"]:
        assert caution in words


def test_names_are_escaped(bike):
    page = bike.correct({"bike.name": "<script>alert(1)</script>"}).sheet().to_html()
    assert "<script" not in page


def test_notebooks_show_tables(bike):
    assert "<table" in bike.advise()._repr_html_()
    assert "<table" in bike.fit()._repr_html_()
    assert bike.sheet()._repr_html_().startswith('<iframe sandbox="allow-same-origin" srcdoc=')


def test_save_writes_the_page(bike, tmp_path):
    bike.sheet().save(tmp_path / "sheet.html")
    assert (tmp_path / "sheet.html").read_text("utf-8") == bike.sheet().to_html()


def test_the_sheet_stands_the_whole_bike_in_three_states():
    bike = wr.demo()
    table = json.loads(bike.sheet().to_json())["geometry"]["table"]
    assert table["columns"][1:] == ["fully extended", "bike alone", "rider on", "with stretcher"]
    rows = {row[0]["text"]: [entry["value"] for entry in row[1:]] for row in table["rows"]}
    stances = bike.whole.stances()
    trails = [stance.trail.m_as("mm") for stance in (stances.extended, stances.free.stance, stances.rider.stance)]
    assert rows["trail"][:3] == pytest.approx(trails)
    assert rows["skid plate over ground"][2] < rows["skid plate over ground"][0]
    page = bike.sheet().to_html()
    assert "The whole bike" in page
    assert f"{trails[2]:.1f} mm" in page
    keys = bike.to_dict()
    del keys["wheels"]
    without = wr.Bike.from_dict(keys).sheet()
    assert "<code>wheels</code> is missing" in without.to_html()
    assert "`wheels` is missing" in without.to_text()


def test_a_fork_without_an_adjuster_is_set_by_its_spacers():
    """Today's springs by what is cut off or added; new ones, of another length, by how far the last part stands out."""
    little = (Path(__file__).parents[2] / "core/demo/least.toml").read_text("utf-8")
    front = wr.Bike.from_toml(little).advise_end("front")
    (said,) = (reason for reason in front.reasons() if "no adjuster outside" in reason)
    best = max(front.choices, key=lambda choice: choice.probability.m_as(""))
    preload = best.preload.value.m_as("mm")
    assert "cut the spacers for the new springs" in said
    assert f"stands {preload:.1f} mm above the top of the tube" in said
    deep = '\n[[reading]]\nend = "front"\nload = "bike"\nsettled = "middle"\nsag = "35 mm"\n'
    deep += '[on_sale]\nfront = ["0.47 kgf/mm"]\n'
    kept = wr.Bike.from_toml(little.replace("41 mm", "58 mm") + deep).advise_end("front")
    (said,) = (reason for reason in kept.reasons() if "no adjuster outside" in reason)
    change = kept.choices[0].preload_change.value.m_as("mm")
    assert change < 0
    assert f"cut {-change:.1f} mm off each spacer" in said
