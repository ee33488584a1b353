"""Songs and keys that signs join in pairs: each line lands exactly its pairs, or nothing without a doubt."""

import pytest
from examples import seldom
from leader.reply_shape import BALL, PIER, TODAY
from leader.scoring import said

from companion.leader.answers import read_answers
from companion.show import Show

PAIRS = [(2, "G"), (3, "D"), (4, "Am"), (6, "C"), (7, "F")]
# One sign for all pairs of a line: forms that people type, and some that nobody does.
FORMS = [
    *(f"{{n}}{sign}{{k}}" for sign in "/-.>:=|~_*+;,@&·•–)"),
    *(f"{{k}}{sign}{{n}}" for sign in "/-.>:=|~@"),
    *(f"{{n}} {sign} {{k}}" for sign in "/-=|>:"),
    *(f"{{k}} {sign} {{n}}" for sign in "/-=|>:"),
    *("({n}) {k}", "[{n}] {k}", "#{n} {k}", "{n} ({k})", "{k} (#{n})", "{k}({n})", "{n}, {k}", "{n}...{k}", "{n}->{k}"),
    *("({n} {k})", "({n}/{k})", "({k}, {n})", "{n} {k}", "{k} {n}"),
]
SEPARATORS = [" ", ", ", " / ", "; ", "/", " - ", " | ", "\n", ". ", ",", " & ", " and "]


def sure_and_open(show: Show, text: str) -> tuple[set[str], bool]:
    """Return what lands without a doubt, and whether anything else of the reply is shown."""
    read = read_answers(text, show, today=TODAY)
    return {said(show, one) for one in read.found if not one.doubt}, bool(
        read.left or read.passed or any(one.doubt for one in read.found)
    )


@pytest.mark.parametrize(
    ("many", "separators"),
    [(2, SEPARATORS[::6]), seldom(2, SEPARATORS[3::6] + SEPARATORS[1::3] + SEPARATORS[2::3]), seldom(3, SEPARATORS)],
    ids=["", "other signs", "three pairs"],
)
@pytest.mark.parametrize("form", FORMS)
def test_a_line_of_pairs_lands_exactly_its_pairs_or_is_shown(form: str, many: int, separators: list[str]) -> None:
    for separator in separators:
        text = separator.join(form.format(n=number, k=key) for number, key in PAIRS[:many])
        meant = {f"{number} key {key}" for number, key in PAIRS[:many]}
        sure, is_open = sure_and_open(BALL, text)
        assert (text, sure - meant) == (text, set())
        assert (text, sure == meant or is_open) == (text, True)


@pytest.mark.parametrize(
    "form", ["{n}/{k}", "{k}/{n}", "{n}-{k}", "{n}.{k}", "{n}>{k}", "{n} = {k}", "({n}) {k}", "#{n} {k}"]
)
@pytest.mark.parametrize("separator", [" ", ", ", " / ", "; "])
def test_usual_signs_between_number_and_key_leave_no_doubt(form: str, separator: str) -> None:
    text = separator.join(form.format(n=number, k=key) for number, key in PAIRS)
    assert sure_and_open(BALL, text) == ({f"{number} key {key}" for number, key in PAIRS}, False)


@pytest.mark.parametrize(
    "text",
    ["2/G 3/D 4", "2/G 3 D/4 A", "G/2 D/3 A", "2/G/A 3/D", "2/G D 3/A", "Moth, G/2 A/3 4 you start", "G (2) D (3) A"],
)
def test_no_key_lands_without_a_doubt_where_songs_and_keys_do_not_pair_up(text: str) -> None:
    assert {one for one in sure_and_open(PIER, text)[0] if " key " in one} == set()


@pytest.mark.parametrize(
    ("text", "landed"),
    [
        ("2/G 3/D cold", {"2 key G", "3 key D", "3 ending cold"}),
        ("2/G 3/D 4 drums start", {"2 key G", "3 key D", "4 starts_with drums"}),
        ("2,3/G 4/D", {"2 key G", "3 key G", "4 key D"}),
        ("thanks! 2/G 3/D", {"2 key G", "3 key D"}),
        ("G for 2 / D for 3", {"2 key G", "3 key D"}),
        ("2 G / 3 D / 4 cold", {"2 key G", "3 key D", "4 ending cold"}),
        ("#6 C #7 F", {"6 key C", "7 key F"}),
        ("6 C #", {"6 key C#"}),
        ("drums/4 keys/5", {"4 starts_with drums", "5 starts_with keys"}),
        ("cold/4 fade/5 G/6", {"4 ending cold", "5 ending fade"}),  # the key is asked: 5 G, or G 6?
        ("cold (4, 5) fade (6, 7)", {"4 ending cold", "5 ending cold", "6 ending fade", "7 ending fade"}),
        ("4/Dm/drums/cold 5/C/fade", {"4 key Dm", "4 starts_with drums", "4 ending cold", "5 key C", "5 ending fade"}),
        (
            "4 drums/cold 5 keys/fade 6 guitar/cold",
            {
                *("4 starts_with drums", "4 ending cold", "5 starts_with keys", "5 ending fade"),
                *("6 starts_with guitar", "6 ending cold"),
            },
        ),
        ("5 - straight into 6, 7 - G", {"5 segue Cold Harbour Lane", "7 key G"}),
    ],
)
def test_pairs_among_other_facts_keep_their_order(text: str, landed: set[str]) -> None:
    assert sure_and_open(BALL, text)[0] == landed


@pytest.mark.parametrize("form", ["{n}/{f}", "{f}/{n}", "{n}-{f}", "{f} ({n})", "{f}: {n}", "{n} = {f}", "{n}>{f}"])
@pytest.mark.parametrize("separator", [" ", ", ", " / ", "; ", " - ", " | "])
def test_pairs_of_other_facts_land_as_such_or_are_shown(form: str, separator: str) -> None:
    facts = {
        4: ("drums", "starts_with drums"),
        5: ("cold", "ending cold"),
        6: ("Em", "key Em"),
        7: ("fade", "ending fade"),
    }
    for many in (2, 3, 4):
        some = list(facts.items())[:many]
        text = separator.join(form.format(n=number, f=typed) for number, (typed, _) in some)
        meant = {f"{number} {fact}" for number, (_, fact) in some}
        sure, is_open = sure_and_open(BALL, text)
        assert (text, sure - meant) == (text, set())
        assert (text, sure == meant or is_open) == (text, True)


@pytest.mark.parametrize(
    "text",
    [
        "Moth (Cm), Umbrellas (as record) and Postbox Tango (G)",
        "I only have the charts for Moth (Cm), Umbrellas (record too) and Postbox Tango (G)",
        "Moth - Cm, Umbrellas - record key, Postbox Tango - G",
        "4/Cm 7/record 8/G",
    ],
)
def test_the_key_of_the_record_pairs_up_as_a_key_does(text: str) -> None:
    assert sure_and_open(PIER, text)[0] >= {"7 key E", "8 key G"}
    assert "4 key Cm" in {said(PIER, one) for one in read_answers(text, PIER, today=TODAY).found}
