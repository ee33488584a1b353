"""Parts of an evening or a service at which the band plays nothing: Speeches, Cake cut, Reading - Ann, Buffet + DJ."""

import re

from companion.setlist.parsing.set_headings import bare, clock_in_front

# Words as they are on running orders (dictionaries of each language, common practice; no single source).
_SURE_WORDS = """
speech speeches toast toasts buffet bbq barbecue raffle auction bingo quiz tombola prizegiving prize prizes
awards presentation presentations fireworks photos photographs photographer carriages notices announcements sermon
homily intercessions benediction soundcheck changeover curfew dj djs disco playlist catering comedian magician
compere compère emcee karaoke refreshments doors housekeeping
reden ansprache ansprachen tortenanschnitt verlosung predigt fürbitten begrüßung einlass aufbau abbau umbau
mittagessen bieranstich ehrungen mitternachtssuppe mitternachtseinlage abendessen
discours repas dîner tirage quête annonces
testimony estrazione discorsi omelia lotteria brindisi
discursos brindis rifa sorteo homilía sorteio jantar
toespraken toespraak loterij preek collecte opbouw afbouw
taler lodtrækning prædiken velkomst natmad aftensmad tårta tal lotteri predikan välkomst
vt vts montage klockringning inledning kollekt kyrkkaffe förbön preken kirkekaffe velsignelse overdenking kolehti
bienvenida anuncios avisos ofrenda predicación prédica sermón pregação anúncios prédication bienvenue predica
predicazione annunci avvisi mededelingen afkondigingen abkündigungen bekanntmachungen kunngjøringer meddelelser
saarna siunaus požehnání puheet arpajaiset przemówienia oczepiny kazanie proslovy večeře kázání
"""
_MAY_BE_WORDS = """
cake dinner lunch supper meal food tea coffee drinks pies pie bar prayer prayers bidding reading readings lesson
collect epistle lessons blessing address talk welcome collection communion vows rings creed offering notice grace roll
nibbles canapes canapés snacks sandwiches peas chili chilli curry haggis tapas apéro apéritif aperitivo
häppchen imbiss fingerfood hapjes borrel bitterballen rinfresco stuzzichini picoteo pinchos petiscos mingel fika
snittar snitter
pause interval break intermission guests arrival arrivals arrive arriving leave seated bouquet garter load get
line check poem story video wine mulled ramo mrs cortina tape costume testimonies
rede essen kaffee kuchen buffett torte lesung gebet segen kollekte ansage ansagen feuerwerk sektempfang
gâteau café dessert prière lecture
bénédiction bendición bênção comunión saludo
cena pranzo caffè torta taglio preghiera lettura benedizione
tarta comida postre oración lectura almoço bolo oração leitura café
taart koffie diner gebed lezing zegen welkom
kage kaffe middag bøn læsning tale bön läsning
kakku ruokailu kahvi rukous tort obiad kolacja kawa modlitwa czytanie toast dort oběd káva modlitba čtení
"""
_WORDS_BESIDE = """
the a an of to and then for by with from at in on off out up till until time times start starts end ends open
opens close closes closing opening cut cutting cuts served serve first second third fourth 1st 2nd 3rd final short
long quick hot main evening late band everyone all best man bride groom father mother family couple children
children's bible gospel
more mince hog roast finger stage still please again und et e y el los las al og och ja i de du des la le les della
del do da der die das zum zur mit avec con com med met en
play plays sign sheet
aansnijden anschneiden découpe coupe corte krojenie skæring ouverture toss throw giving check draw some
"""
_PAUSE_WORDS = """
buffet bbq barbecue raffle auction bingo quiz tombola dinner lunch supper meal drinks food tea essen abendessen
häppchen imbiss hapjes borrel bitterballen apéro rinfresco
repas cena sorteo sorteio lotteria lotteri loterij
"""
_SURE, _MAY_BE, _BESIDE, _PAUSES = (
    frozenset(words.casefold().split()) for words in (_SURE_WORDS, _MAY_BE_WORDS, _WORDS_BESIDE, _PAUSE_WORDS)
)
_PHRASES = re.compile(
    r"^(?:(?:band |everyone )?(?:off|on|leave|clear) stage|(?:band )?(?:load|get)[- ]?(?:in|out)|sound ?check|"
    r"line ?check|(?:band |we )?(?:pack|strike|break)[- ]?(?:down|up|the stage)|set[- ]?up|"
    r"(?:house )?lights? (?:up|down|out)|altar call|(?:one |a )?minute'?s? silence|group photos?|grand draw|"
    r"(?:short |long )?(?:chat|story|gap|tuning|costume change)|"
    r"(?:wedding |birthday )?cake[- ]?cut(?:ting)?|(?:cutting|cut) (?:of )?the cake|"
    r"ouverture des portes|feu d'artifice|pièce montée|fuochi d'artificio|fuegos artificiales)\b",
    re.IGNORECASE,
)
_NO_BAND = re.compile(
    r"[(\[][^()\[\]]{0,20}\b(?:no band|without (?:the )?band|ohne band|sans (?:le )?groupe|playlist|dj|from (?:phone|"
    r"laptop|track)|recorded|zonder band|uden band|utan band|senza band|sin banda|no music|keine musik|"
    r"sans musique|senza musica|sin música|geen muziek|ingen musik)\b[^()\[\]]{0,20}[)\]]",
    re.IGNORECASE,
)
_NO_MUSIC = re.compile(  # Comic - no music
    r"\s[-–—]\s(?:(?:no|without|keine|ohne|sans|pas de|niente|senza|sin|sem|geen|zonder|ingen|uden|utan|uten|ei) "
    r"(?:live )?(?:music|band|musik|musique|groupe|musica|música|muziek|musikk|musiikkia)|"
    r"playlist|dj|recorded|from cd)$",
    re.IGNORECASE,
)
_SPOKEN = re.compile(
    r"^(?:(?:the |a )?(?:first|second|third|fourth|fifth|1st|2nd|3rd|4th|bible|old testament|gospel|opening|closing|"
    r"final|bidding) )?"
    r"(?:readings?|lessons?|sermon|homily|speech|speeches|toasts?|talk|address|notices|announcements|prayers?|"
    r"gospel|lesung|predigt|rede|reden|lecture|discours|lettura|lectura|leitura|lezing|læsning|läsning|czytanie)(?:\s\d{1,2})?\s?:\s",
    re.IGNORECASE,
)
_BRACKET = re.compile(r"\s*[(\[][^()\[\]]*[)\]]?$")
_WHO = re.compile(
    r"\s+(?:[-–—]\s+\S+(?:\s\S+){0,3}|(?:by|with|door|von|vom|mit|par|avec|da|di|por|con|av|af|med)\s+\S+(?:\s[A-Z]\w+){0,2})$"
)
_WORDS = re.compile(r"[^\W\d_](?:['’]?[^\W_])*|\d(?:st|nd|rd|th)")
_TIME = re.compile(
    r"[\s,(–—-]+(?:at |ca\.? |um |à |alle |a las |kl\.? |klo )?"
    r"\d{1,2}(?:[:.h]\d\d)?\s?(?:am|pm|uhr|h|min(?:ute)?s?)?\)?$"
)
LONGEST = 80
MAX_WORDS = 4
MAX_IN_PART = 3  # words of one event among several
_PARTS = re.compile(r"\s*[/+&,;|]\s*|\s+(?:and|then|und|et|y)\s+")


def _plain(text: str) -> str:
    words = bare(clock_in_front(bare(text))[1])
    words = _BRACKET.sub("", words)
    return _WHO.sub("", _TIME.sub("", words)).strip()


def _share(text: str, words: frozenset[str]) -> tuple[int, int]:
    """Return how many of the words are among these, and how many are neither these nor words beside them."""
    found = [word.casefold().replace("’", "'") for word in _WORDS.findall(text)]
    named = sum(word in words for word in found)
    return named, sum(word not in words and word not in _BESIDE for word in found)


def is_event(text: str) -> bool:
    """Return whether the line can only be an event without the band.

    >>> [is_event(text) for text in ("Cake cut & speeches", "Speeches for Nobody", "Coffee", "Reading: Luke 3 - Tom")]
    [True, False, False, True]
    """
    if len(text) > LONGEST:
        return False
    if _NO_BAND.search(text) or _NO_MUSIC.search(text) or _SPOKEN.match(clock_in_front(bare(text))[1]):
        return True
    plain = _plain(text)
    if (found := _PHRASES.match(plain)) and not _share(plain[found.end() :], _SURE | _MAY_BE)[1]:
        return True
    parts = _PARTS.split(plain)
    if len(parts) > 1 and all(len(part.split()) <= MAX_IN_PART and _share(part, _SURE)[0] for part in parts):
        return True  # Buffet / raffle / chairman's speech
    sure, others = _share(plain, _SURE)[0], _share(plain, _SURE | _MAY_BE)
    return not others[1] and (sure > 0 or others[0] > 1)


def ends_a_set(text: str) -> bool:
    """Return whether the band stops for the event: a meal, a draw, speeches."""
    return _share(_plain(text), _PAUSES)[0] > 0


def names_meal(text: str) -> bool:
    """Return whether a meal or a draw is among a few words: Ploughman's supper."""
    plain = _plain(text)
    return len(plain.split()) <= MAX_WORDS and ends_a_set(text)


def names_event(text: str) -> bool:
    """Return whether a word for an event is among a few others: Begrüßung Bürgermeister, Sorteio do cabaz."""
    plain = _plain(text)
    return len(plain.split()) <= MAX_WORDS and _share(plain, _SURE)[0] > 0


def may_be_event(text: str) -> bool:
    """Return whether the line names an event, in words that may also be a song's title: Coffee, Blessing, Prayers."""
    if len(text) > LONGEST:
        return False
    named, other = _share(_plain(text), _SURE | _MAY_BE)
    return named > 0 and not other
