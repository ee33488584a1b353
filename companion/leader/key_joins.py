"""Words between two keys: D then E, A not G, G or A, not G but A; and words that follow a key."""

from collections.abc import Sequence
from typing import Final

from companion.leader.hour_words import folded_phrases
from companion.leader.reply_words import NUMBER, WORD, ReplyWord, low, phrase_of, set_of

SAYS: Final = set_of("says said reckons thinks insists swears claims believes wants prefers suggested suggests")
SAYS_ABROAD: Final = set_of("sagt meint dit dice dicen dijo disse zegt sager siger mowi rika")  # who it is follows
_THEN_ABROAD: Final = ("puis", "ensuite", "dann", "danach", "poi", "luego", "despues", "depois", "daarna", "dan", "sen")
THEN: Final = (
    ("then",),
    ("to",),
    ("->",),
    ("=>",),
    ("→",),
    ("up", "to"),
    ("and", "then"),
    ("then", "to"),
    ("then", "up", "to"),
    ("then", "down", "to"),
    ("going", "to"),
    ("going", "up", "to"),
    ("goes", "to"),
    ("goes", "up", "to"),
    ("moving", "to"),
    ("changing", "to"),
    ("changes", "to"),
    ("and", "up", "to"),
    ("and", "goes", "up", "to"),
    ("and", "then", "up", "to"),
    (",", "then"),
    ("into",),
    *((then,) for then in _THEN_ABROAD),
    *((joined, then) for joined in ("et", "und", "y", "e", "en", "och", "og") for then in _THEN_ABROAD),
    (">",),
    ("/",),
)
INSTEAD: Final = (
    ("now", "not"),
    ("than",),
    ("than", "in"),
    ("rather", "than", "in"),
    ("not", "in"),
    ("instead", "of", "in"),
    ("now", ",", "not"),
    ("these", "days", "not"),
    ("not",),
    (",", "not"),
    ("instead", "of"),
    ("rather", "than"),
    ("and", "not"),
    ("nicht",),
    ("ipv",),
    ("in", "plaats", "van"),
    ("statt",),
    ("anstatt",),
    ("au", "lieu", "de"),
    ("en", "vez", "de"),
    ("invece", "di"),
    ("istallet", "for"),
    ("i", "stallet", "for"),
    ("i", "stedet", "for"),
    ("em", "vez", "de"),
    ("zamiast",),
    ("misto",),
    *((*comma, word) for word in ("ne", "nie", "nem", "ikke", "inte", "niet", "pas") for comma in ((), (",",))),
    *(("et", "pas"), ("en", "niet"), ("e", "non"), ("y", "no"), ("och", "inte"), ("og", "ikke"), ("a", "ne")),
)
# What says that the key after it is the old one: D (changed from C), sol, antes en fa.
PAST: Final = folded_phrases(
    "was | it was | was in | it was in | used to be | used to be in | it used to be | previously | previously in | "
    "formerly | before it was | originally | originally in | up from | down from | no longer | no longer in | "
    "changed from | changed up from | changed down from | moved from | moved up from | moved down from | "
    "shifted from | dropped from | dropped down from | lowered from | raised from | transposed from | "
    "brought down from | brought up from | taken down from | taken up from | avant | avant en | avant c'était | "
    "c'était | c'était en | plus en | et plus en | vorher | vorher in | früher | früher in | war | war in | "
    "war vorher | nicht mehr | nicht mehr in | antes | antes en | antes em | antes era | era | ya no en | y no en | "
    "já não em | prima | prima in | prima era | prima era in | era in | non più in | eerst | eerst in | eerder | "
    "vroeger | was eerst | niet meer in | niet meer | niet langer | niet langer in | nicht länger | non più | ya no | "
    "já não | inte längre | inte längre i | ikke længere | ikke længere i | ikke lenger | ikke lenger i | tidigare | "
    "tidigare i | tidligere | tidligere i | var | var i | dříve | "
    "dříve v | předtím | wcześniej | wcześniej w | było | było w"
)
BEFORE_PAST: Final = set_of("( , - – — ; [ and und e y et en och og a but ma aber mais pero maar men")
# What says that the key after it is no longer right, before the right one: no longer F, it is now D.
NO_LONGER: Final = folded_phrases(
    "not | not in | no longer | no longer in | not any more | isn't | isn't in | nicht | nicht mehr | nicht in | "
    "nicht mehr in | plus en | n'est plus en | pas en | ya no en | no en | ya no es | já não em | não em | "
    "non più in | non in | niet in | niet meer in | niet langer in | inte i | inte längre i | ikke i | "
    "ikke længere i | ikke lenger i"
)
_OR: Final = ("or", "oder", "ou", "of", "eller", "nebo", "lub", "albo", "vagy", "o")
OR: Final = (*((one,) for one in _OR), *(("?", one) for one in _OR))  # Gm or G; A? or Bb
BUT: Final = folded_phrases(
    "but | , but | , | - | ; | its | , its | it's | , it's | sondern | , sondern | it's now | , it's now | it is now | "
    ", it is now | , now | now | but now | , but now | but in | , but in | , in | , en | , em | , i | mais | mais en | "
    ", mais en | sino en | , sino en | ma in | , ma in | maar in | , maar in | sondern in | , sondern in | , jetzt | "
    ", jetzt in | , maintenant en | , ahora en | , adesso in | , ora in | , nu in | , nu i | , agora em | utan i | "
    ", utan i | , men i | men i | mas em | , mas em"
)
# What says that the key after it was tried, and that another one follows: we tried F, we ended up on D.
TRIED: Final = folded_phrases(
    "tried | we tried | we tried it in | tried it in | we tried in | wir haben probiert | probiert | on a essayé | "
    "on a essayé en | probamos | probamos en | abbiamo provato | abbiamo provato in | tentámos | "
    "vi testade | vi provade | vi prøvede | vi prøvde | we probeerden"
)
# What says that a key did not suit, before the right one: F was too high, so D.
TOO_HIGH: Final = folded_phrases(
    " | ".join(
        f"{verb} {too} {how}"
        for verbs, too, hows in (
            (("is", "was", "felt", "it's"), "too", ("high", "low", "hard", "bright", "dark")),
            (("ist", "war"), "zu", ("hoch", "tief")),
            (("est", "était"), "trop", ("haut", "bas", "grave", "aigu")),
            (("es", "era"), "demasiado", ("alto", "agudo", "bajo", "grave")),
            (("è", "era"), "troppo", ("alto", "alta", "basso", "bassa")),
            (("is", "was"), "te", ("hoog", "laag")),
            (("är", "var"), "för", ("högt", "lågt")),
            (("er", "var"), "for", ("højt", "lavt", "høyt")),
        )
        for verb in verbs
        for how in hows
    )
    + " | didn't work | doesn't work | didn't suit her | didn't suit him | doesn't suit her | doesn't suit him"
)
# What takes back the key before it: F sharp minor, no wait, F sharp major; Ab? no, A.
TAKEN_BACK: Final = folded_phrases(
    " | ".join(
        f"{before}{words}"
        for before in ("", ", ", "? ", "... ", "- ")
        for words in (
            "no wait", "no hang on", "no hold on", "no sorry", "no i mean", "no i meant", "i mean", "i meant",
            "no what am i saying", "what am i saying", "scratch that", "no scratch that", "no actually",
            "nein warte", "ach nein", "nein quatsch", "quatsch", "was sag ich", "ich meine", "non pardon",
            "non attends", "qu'est-ce que je dis", "je veux dire", "no perdón", "no espera", "qué digo",
            "no scusa", "no aspetta", "ma che dico", "anzi", "nee wacht", "nee sorry", "wat zeg ik", "ik bedoel",
            "nej vänta", "nej förlåt", "nej vent", "jeg mener", "jag menar",
        )
    )
    + " | ? no | ? no , | ? no its | ? no it's | ? nope | ? nope its | ? nein | ? nein , | ? non | ? non , | ? nee"
    + " | ? nej"
)  # fmt: skip
# What says that the key after it is the one, behind those that are not.
DECIDED: Final = folded_phrases(
    "so | so now | so it's | so we do | so we do it in | so in | went with | we went with | went for | we went for | "
    "ended up on | ended up in | ended up with | we ended up on | we ended up in | we ended up with | settled on | "
    "we settled on | landed on | we landed on | and ended up in | and ended up on | and settled on | "
    "also | also jetzt | also in | donc | donc en | así que | quindi | quindi in | dus | dus in | så | så i"
)
# "Too" after a key, in the languages that name keys by syllables as well: re anche.
# No noun phrase goes on so after the article "a".
NEVER_AFTER_A: Final = set_of("the this that these we you he she they it i'm we're my our your his because with starts")
TOO: Final = set_of("too also pure aussi anche tambien tambem tambe ook auch ocksa ogsa aven tez rowniez myos")
# Words that may follow a key, by language, folded; before others A is an article.
AFTER_KEY: Final = TOO | set_of(
    # English
    "and but or then not instead rather without except apart aside besides excluding barring bar unless if when "
    "because cos since though like as same "
    "with from per for on at in to up into around about again now the this that these we you i it its it's thats "
    "that's is are goes runs straight please thanks cheers sorry maybe perhaps probably definitely think guess "
    "reckon yes no ok okay bye ofc lol haha x xx xxx oh um umm uh uhm er erm eh hmm ahm ehm euh oeh "
    # English, of music
    "key original minor major flat sharp ish lower higher capo chart click clicks count counts four oclock start "
    "tonight today starts ends ending fade fades cold tag rit segue segues dropped all both everyone last throughout "
    # German
    "heute und undt aber oder ausser dann jetzt diesmal wie mit bleibt bleiben sein gespielt vielleicht glaub glaube "
    "denk denke ja "
    # French
    "mais ou puis sauf maintenant desormais reste oui "
    # Spanish
    "y pero excepto salvo luego ahora actualmente sigue creo "
    # Italian
    "ma tranne eccetto adesso ora stavolta resta credo "
    # Portuguese
    "mas menos agora acho penso sim "
    # Dutch
    "maar behalve ipv zoals nu tegenwoordig blijft zijn blijven gespeeld misschien "
    # Danish, Norwegian and Swedish
    "og och men undtagen utom sa numera tror kanske jo "
    # Polish, Czech, Finnish and Hungarian
    "ale teraz ted nyt tak ano igen joo"
)


def is_of_others(words: Sequence[ReplyWord], join: tuple[str, ...], end: int, *, is_then: bool) -> bool:
    """Return whether what seems a second key is about other songs: 1 to 4 in G, then A for 5; en sol o la segunda."""
    if join == ("o",) and words[end - 1].text.islower() and end < len(words) and words[end].kind in (WORD, NUMBER):
        return True
    return is_then and end + 1 < len(words) and words[end].low in ("for", "on") and words[end + 1].kind == NUMBER


_TO: Final = set_of("to into nach auf zu en a al à naar na till til do")
_FROM: Final = set_of("from von depuis de desde da van fran fra z ze")
MAX_BETWEEN: Final = 3  # words of a key: B flat minor


def is_from(words: Sequence[ReplyWord], at: int) -> int:
    """Return how many words say that the old key follows, after a key that "to" announces: down to Bb from C."""
    before = range(max(at - MAX_BETWEEN - 1, 0), at - 1)
    follows = words[at + 1].text if at + 1 < len(words) else ""
    is_old = low(words, at) in _FROM and any(words[one].low in _TO for one in before) and follows[:1].isupper()
    return 1 if is_old else 0


def is_told(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether words after a key say who names it, or that the next is old: A flat he says, A no longer G."""
    if phrase_of(words, at, PAST) > 1:
        return True  # A niet meer Bes
    follows = [word.low for word in words[at : at + 2]]
    return any(one in SAYS for one in follows) or (bool(follows) and follows[0] in SAYS_ABROAD)


def is_dutch_and(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether an "en" is "and" in Dutch, by the word behind it: negen a en die eindigt abrupt."""
    return low(words, at) == "en" and low(words, at + 1) in _BEHIND_EN


_BEHIND_EN: Final = set_of(
    "die dan daar daarna daarmee dat de dit het hij hier ik ie je jij jullie maar met na niet nummer ook pas we wij "
    "wel ze zij zonder weer eindigt eindigen stopt stoppen begint beginnen gaat gaan loopt iedereen alleen"
)


def is_foreign_and(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether an "e" is "and" in Italian or Portuguese: tempo 140 e parte il basso."""
    before = words[at - 1] if at else None
    is_key = (
        before is None or before.low in _BEFORE_E or (before.kind == NUMBER and not _has_word_before(words, at - 1))
    )
    return words[at].text == "e" and not is_key and low(words, at + 1) in _GO_ON_AFTER_E


def _has_word_before(words: Sequence[ReplyWord], at: int) -> bool:
    return at > 0 and words[at - 1].kind == WORD and words[at - 1].low not in _NUMBERED


_NUMBERED: Final = set_of("numero num number no n la il a o the and e then poi")
_BEFORE_E: Final = set_of("in em key is = : - – — # tono tonalita chave")
_GO_ON_AFTER_E: Final = set_of(
    "parte partono comincia cominciano inizia iniziano entra entrano attacca attaccano apre aprono finisce finiamo "
    "sfuma sfumiamo rallenta rallentiamo termina terminiamo chiude chiudiamo si non poi tu anche con senza il lo gli "
    "la le un una comeca comecam arranca arrancam acaba acabamos fecha fechamos abranda com sem uma um o os no na da "
    "do fine finale fim"
)


def is_article(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether "la" or "a" is before a number and is no answer to one: la 1 en sol, a 2 em Ré."""
    if words[at].low == "a":
        return at + 2 < len(words) and words[at + 1].kind == NUMBER and words[at + 2].text in _OF_PORTUGUESE
    is_before_number = at + 1 < len(words) and words[at + 1].kind == NUMBER
    if at + 1 < len(words) and words[at + 1].low in ("numero", "num"):
        return True  # en la número tres
    return is_before_number and (at == 0 or words[at - 1].kind not in (WORD, NUMBER) or low(words, at - 1) in ANDS)


_OF_PORTUGUESE: Final = ("em", "en", "é", "já", "não", "non", "creo", "fica")
ANDS: Final = ("y", "et", "e", "and", "en", "sur")  # 9 sol y final seco


def is_before_verb(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a capital A stands behind a word in small letters and before a verb: elbows A stops cold."""
    is_typed_small = at > 0 and words[at - 1].text[-1:].islower() and words[at - 1].low not in _BEFORE_NOUN
    return words[at].text == "A" and is_typed_small and low(words, at + 1) in _VERBS_AFTER_KEY


_BEFORE_NOUN: Final = set_of("with for by of like mit avec con com med met")
_VERBS_AFTER_KEY: Final = set_of(
    "stops stop ends end fades fade slows cuts closes finishes starts begins opens runs goes kicks dies rings holds "
    "finit termine termina acaba empieza commence demarre enchaine finisce sfuma rallenta inizia comincia parte endet "
    "hort beginnt startet blendet stopt eindigt begint slutar slutter borjar begynder starter hard sudden suddenly "
    "cold dead abrupt abruptly"
)


def is_nordic_in(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether the "i" before a key is "in" in Danish and Swedish: 1 går i G, 2 i Am, Grillat igen i D."""
    return at > 1 and words[at - 1].text == "i" and words[at - 2].kind in (WORD, NUMBER)


def is_number_sign(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a "#" belongs to the number after it: "#6 C #7 F"."""
    follows = words[at + 1] if at + 1 < len(words) else None
    is_apart = words[at].start > words[at - 1].end
    return words[at].text == "#" and is_apart and follows is not None and follows.start == words[at].end


def as_typed(words: Sequence[ReplyWord], at: int, end: int) -> str:
    """Return some words as they were typed."""
    gaps = ["", *(" " * (words[one].start > words[one - 1].end) for one in range(at + 1, end))]
    return "".join(gap + word.text for gap, word in zip(gaps, words[at:end], strict=True))


def spelled(words: Sequence[ReplyWord], at: int, end: int) -> int:
    """Skip how a letter is spelled on the telephone: E as in Edna."""
    for join in (("as", "in"), ("like", "in"), ("for",), ("wie",)):
        named = end + len(join)
        if follows(words, end, join) and named < len(words) and words[named].kind == WORD:
            said = words[named].text
            if said[:1].upper() == words[at].text[:1].upper() and len(said) > 2:
                return named + 1
    return end


def follows(words: Sequence[ReplyWord], at: int, join: Sequence[str]) -> bool:
    """Return whether these words are here."""
    return [word.low for word in words[at : at + len(join)]] == list(join)


def is_syllable_behind(text: str, before: str) -> bool:
    """Return whether a word that ends a clause is a key: creo que La, je crois que c'est la, quindi Re."""
    is_capital = text.istitle() and text.casefold() in ("do", "re", "mi", "fa", "sol", "la", "si")
    return before in _SAYING and (is_capital or text in ("la", "re", "sol"))


_SAYING: Final = set_of(
    "que che quindi dunque allora donc alors entonces asi luego portanto entao also est c'est cest es e è é"
)
