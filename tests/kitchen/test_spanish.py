"""Steps in Spanish are understood as the same steps in English are.

The sentences in both languages and what hurts in the recipes are ours, judged as a cook would. The
verbs' forms are held against the conjugation tables of the Royal Spanish Academy's dictionary
(Diccionario de la lengua española, appendix of conjugations), from memory.
"""

from __future__ import annotations

import re
import sys
from dataclasses import replace
from functools import cache
from pathlib import Path
from random import Random

import pytest
from golden_actions import flow_of, shown_steps
from test_words_of_danger import Dish, all_problems_in

from spoonfold.kitchen.lexicon import english
from spoonfold.kitchen.spanish.english import Sort
from spoonfold.kitchen.spanish.forms import Form, verb_forms
from spoonfold.kitchen.spanish.lexicon import spanish
from spoonfold.kitchen.spanish.recipe import NamesInEnglish, recipe_in_english
from spoonfold.kitchen.spanish.told import to_write
from spoonfold.kitchen.spanish.words import Glosser
from spoonfold.knowledge.data import data
from spoonfold.knowledge.lexicons import is_read
from spoonfold.model.prose import plain
from spoonfold.problem import Level
from spoonfold.read.pantry import read_pantry

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE / "corpus"))

from judge import FORMS, Judged, judge, recipes_in  # noqa: E402 (its folder is no package)

SPANISH = HERE / "corpus" / "development-es"
PAIRS: tuple[tuple[str, str], ...] = tuple(
    (line.split(" => ")[0], line.split(" => ")[1])
    for line in (HERE / "actions-es.txt").read_text("utf-8").splitlines()
    if line and not line.startswith("#")
)
_NAMES = (
    *("cebolla", "zanahorias", "ajo", "papas", "tomates", "pepino", "pimiento rojo"),
    *("manzanas", "naranjas", "plátanos", "limón", "perejil", "lechuga", "espinacas"),
    *("pechugas de pollo", "carne molida de res", "salmón", "camarones", "huevos", "tocino"),
    *("leche", "mantequilla", "queso", "yogur natural", "harina", "azúcar", "sal"),
    *("pimienta negra", "polvo de hornear", "levadura seca", "aceite de oliva", "arroz"),
    *("espaguetis", "frijoles negros de lata", "caldo de pollo", "agua", "tortillas de maíz"),
    *("miel", "nueces de nogal"),
)
"""The foods of the English sentences, in their order."""
MISSED = {"plain": 1, "noted": 1}
REFUSED = {"plain": 1, "noted": 2}
"""The most of fifty dangers that may pass, and of fifty right recipes that may be refused."""


@cache
def _names() -> NamesInEnglish:
    return NamesInEnglish(read_pantry(None, []), "es")


def shown_in_spanish(words: str) -> list[str]:
    """The actions of a step in Spanish, among the foods of the English sentences."""
    flow = flow_of(words)
    lines = tuple(
        replace(line, name=name) for line, name in zip(flow.recipe.ingredients, _NAMES, strict=True)
    )
    recipe = recipe_in_english(replace(flow.recipe, ingredients=lines), _names())
    return shown_steps(flow_of(plain(recipe.steps[0].text)).actions[1])


def _told(lines: list[str]) -> list[str]:
    """Without the words behind “until”, and of what isn't understood how it stands there."""
    return [
        " | ".join(
            part for part in re.sub(r"^\? \S+", "?", line).split(" | ") if "until" not in part
        )
        for line in lines
    ]


@pytest.mark.parametrize(("words", "said"), PAIRS, ids=[words for words, _ in PAIRS])
def test_sentence(words: str, said: str) -> None:
    """The same actions, with the same foods, tools, places, minutes and degrees."""
    assert _told(shown_in_spanish(words)) == _told(shown_steps(flow_of(said).actions[1]))


def test_the_sentences_are_many_and_said_once() -> None:
    """A line that stands twice holds one thing."""
    sentences = [words for words, _ in PAIRS]
    assert len(sentences) == len(set(sentences)) >= 150


@pytest.mark.parametrize("end", ["", "lo", "la", "los", "las", "melo"])
@pytest.mark.parametrize(
    ("infinitive", "form"),
    [
        ("cortar", "corta"),
        ("picar", "pique"),
        ("cocer", "cueza"),
        ("freír", "fríe"),
        ("servir", "sirvan"),
        ("hervir", "hirviendo"),
        ("remover", "remueve"),
        ("apagar", "apague"),
        ("rebozar", "reboce"),
        ("poner", "pon"),
        ("hacer", "haz"),
        ("escurrir", "escurrid"),
        ("mezclar", "mezclemos"),
    ],
)
def test_a_form_of_a_verb_is_known_with_and_without_pronouns(
    infinitive: str, form: str, end: str
) -> None:
    """Tú, usted, ustedes, vosotros, nosotros, the gerund; with what stands at its end."""
    plainly = Glosser().words(infinitive)[0].said
    said = Glosser().words(f"{form}{end}")
    assert said[0].said.removesuffix("ing") == plainly
    assert [each.said for each in said[1:]] == [
        {"lo": "it", "la": "it", "los": "them", "las": "them", "melo": "it"}[end] for _ in end[:1]
    ]


@pytest.mark.parametrize(
    ("infinitive", "change", "forms"),
    [
        ("cortar", "", "corta corte corten cortad cortemos cortando cortado cortadas"),
        ("calentar", "ie", "calienta caliente calienten calentad calentemos calentando"),
        ("cocer", "ue", "cuece cueza cuezan coced cozamos cociendo cocido"),
        ("servir", "i", "sirve sirva sirvan servid sirvamos sirviendo servido"),
        ("hervir", "ie", "hierve hierva hiervan hervid hirvamos hirviendo hervido"),
        ("freír", "i", "frie fria frian friamos friendo"),
        ("rallar", "", "ralla ralle rallen"),
        ("licuar", "", "licua licue licuen"),
        ("seguir", "i", "sigue siga sigan sigamos siguiendo"),
        ("distribuir", "", "distribuye distribuya distribuyendo"),
        ("cruzar", "", "cruza cruce crucen"),
        ("exprimir", "", "exprime exprima exprimid exprimiendo exprimido"),
    ],
)
def test_forms_follow_the_rules(infinitive: str, change: str, forms: str) -> None:
    """As the tables have them, without accents."""
    assert set(forms.split()) <= {form for form, _ in verb_forms(infinitive, change, {})}


def test_every_word_of_the_lexicon_leads_to_one_that_english_knows() -> None:
    """A verb that no rule knows would be asked about in every recipe."""
    known = data("lexicon/es.json")
    verbs = {said.split(" ")[0] for said in (*known["verbs"], *known["idioms"])}
    verbs |= {said.split(" ")[0] for cases in known["beside"].values() for said in cases}
    assert verbs <= english().commands.keys() | {"reach", "arrive"}
    for forms in spanish().verbs.values():
        assert all(isinstance(form, Form) for _, form in forms)


@pytest.mark.parametrize(
    ("name", "found"),
    [
        ("muslos de pollo", "chicken thigh"),
        ("pechuga de pollo congelada", "chicken breast"),
        ("tortillas de maíz", "corn tortilla"),
        ("jugo de limón", "lemon juice"),
        ("cebolla morada", "red onion"),
        ("gambas crudas", "shrimp"),
        ("pollo", "chicken"),
        ("salchichas", "sausage"),
        ("caldo", "broth"),
        ("nueces", "nut"),
        ("crema", "cream"),
        ("queso rallado", "cheese"),
        ("carne picada", "meat"),
        ("frutos secos", "nut"),
        ("leche", "milk"),
        ("huevos grandes", "egg"),
    ],
)
def test_a_food_is_known_by_its_name_in_spanish(name: str, found: str) -> None:
    """As the pantry calls it, or as the family that it is taken for."""
    item = read_pantry(None, []).find(_names().english(name))
    assert item is not None
    assert found in item.name


@cache
def judged() -> tuple[Judged, ...]:
    return tuple(each for recipe in recipes_in(SPANISH) for each in judge(recipe))


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("right", [False, True], ids=["dangers", "right recipes"])
def test_no_more_is_missed_or_refused_than_was(form: str, right: bool) -> None:
    """A number that has come down stays down."""
    failed = [
        each.recipe.name
        for each in judged()
        if each.form == form and (each.recipe.wrong is None) is right and each.failed
    ]
    assert len(failed) <= (REFUSED if right else MISSED)[form], failed


def test_the_corpus_holds_both_sides() -> None:
    """As many right as wrong, all in Spanish."""
    recipes = list(recipes_in(SPANISH))
    assert len(recipes) >= 100
    assert 2 * sum(each.wrong is None for each in recipes) == len(recipes)
    assert {each.language for each in recipes} == {"es"}
    assert is_read("es") and is_read("es-MX") and not is_read("vi")


def test_what_is_told_is_told_in_the_authors_words() -> None:
    """She never wrote “runny yolk” nor “salmon”."""
    plainly = {each.recipe.name: each for each in judged() if each.form == "plain"}
    eggs = {each.code: each.message for each in plainly["huevo-yema-liquida"].problems}
    assert eggs["stops-short"].startswith("“yema siga líquida” is not done: huevos may")
    plate = [each for each in plainly["atun-misma-fuente"].problems if each.code == "met-raw-again"]
    assert any("“misma fuente”" in each.message for each in plate)
    assert all("salmon" not in each.message for each in plate)
    milk = next(each for each in plainly["leche-bronca"].problems if each.code == "unpasteurised")
    assert "“leche bronca”" in milk.message


REMEDIES = tuple(data("lexicon/es.json")["to write"].values())


@pytest.mark.parametrize("remedy", REMEDIES)
def test_every_word_that_is_proposed_is_understood(remedy: str) -> None:
    """A remedy that asks again is none."""
    said = Glosser().words(remedy.replace("{°C}", "74"))
    assert [each.bare for each in said if each.sort is Sort.UNKNOWN] == []


@pytest.mark.parametrize(
    ("wrong", "right"),
    [
        ("hasta que la yema siga líquida", "hasta que la yema y la clara estén firmes"),
        ("un minuto, y déjalos rosados", "hasta que el centro llegue a 74 °C"),
    ],
)
def test_what_is_proposed_mends_what_was_wrong(tmp_path: Path, wrong: str, right: str) -> None:
    """Written literally in the place of what was refused."""
    food = "4 huevos" if "yema" in wrong else "500 g de carne molida de res"
    what = "los huevos" if "yema" in wrong else "la carne molida"
    codes = []
    for number, words in enumerate((wrong, right)):
        step = f"1. Fríe {what} en una sartén con aceite {words}. Lávate las manos."
        dish = Dish("", (), "9-12", (f"- {food}", "- 2 cucharadas de aceite"), (step,))
        told = all_problems_in(tmp_path / str(number), dish, "es")
        codes.append({each.code for each in told if each.level is Level.ERROR})
    assert codes[0] & {"stops-short", "heat-missing"}
    assert not codes[1] & {"stops-short", "heat-missing"}


def test_what_to_write_is_said_in_spanish() -> None:
    """By the words, the degrees and the tool that it names."""
    assert to_write("until it reaches 165 °F") == "hasta que llegue a 74 °C"
    assert to_write("Wash the board.") == "Lava la tabla."
    assert to_write("another knife") == "otro cuchillo"
    assert to_write("something that nobody said so") == "something that nobody said so"


def test_any_words_in_any_order_are_put_into_english() -> None:
    """Nobody writes as a lexicon expects; what isn't understood is asked about, and never fails."""
    lexicon = spanish()
    words = [
        *lexicon.verbs,
        *lexicon.nouns,
        *lexicon.adjectives,
        *(word for word in lexicon.small for _ in range(9)),
        *(" ".join(phrase) for phrase in lexicon.phrases),
        *(
            "la",
            "lo",
            "se",
            "le",
            "no",
            "y",
            ",",
            ".",
            "que",
            "a",
            "74 °C",
            "½",
            "\u0301",
            "(",
            "—",
        ),
    ]
    chance = Random(3)
    for _ in range(1500):
        text = " ".join(chance.choices(words, k=chance.randint(1, 9)))
        said = Glosser().words(text)
        assert all(0 <= each.begin < each.end <= len(text) for each in said)
        Glosser().phrase(text)
