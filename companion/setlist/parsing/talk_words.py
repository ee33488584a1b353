"""Words with which people change a list that they have sent, in the languages of set lists.

The words are from dictionaries of each language; no single source.
"""

import re
from typing import Final

from companion.setlist.parsing.titles_named import MARK

_SMALL: Final = (
    r"(?:(?:the|then|also|our|that|this|song|tune|please|pls|now|just|again|round|out|die|den|das|der|bitte|auch|"
    r"noch|mal|"
    r"doch|dann|jetzt|la|le|les|el|los|lo|il|o|a|os|as|het|de|det|wir|we|vi)\s){0,3}"
)
DROPPING: Final = (
    r"drop(?:ping|ped|pa|per|pen)?|lose|losing|cut(?:ting)?|skip(?:ping|pen)?|scrap(?:ping)?|ditch(?:ing)?|bin|"
    r"axe|omit|"
    r"remove|(?:leave|take|kick|chuck|throw) out|forget(?: about)?|without|minus|not (?:doing|playing)|"
    r"(?:don['’]?t|won['’]?t|will not|do not) (?:do|play)|streich(?:en?|t)?|ohne|(?:wir )?spielen kein(?:e|en)?|"
    r"enlev(?:e[rz]?|ons)|enlèv(?:e|ent)|vire[rz]?|supprime[rz]?|retire[rz]?|laisse tomber|zappe[rz]?|sans|"
    r"(?:joue|fait) (?:pas|plus)|quit(?:a|ar|amos|ad)|sac(?:a|ar|amos)|elimin(?:a|ar|amos|iamo)|salt(?:amos|iamo)|sin|"
    r"no (?:tocamos|hacemos)|togli(?:amo|ete)?|lev(?:a|iamo)|tagliamo|senza|non (?:facciamo|suoniamo)|tir(?:a|ar|amos)|"
    r"cort(?:a|ar|amos)|sem|não (?:tocamos|fazemos)|schrap(?:pen)?|zonder|stryk(?:a|er)?|ta bort|tar bort|"
    r"skippar?|slopar?|"
    r"utan|hoppar? över|stryg(?:er)?|fjern(?:er)?|dropp(?:er)?|uden|uten|kutt(?:er)?|bez|wywal(?:amy)?|skreśl(?:amy)?|"
    r"wyrzucamy|vynech(?:áme|at)?|škrt(?:áme|nout)?|izbac(?:i|iti|imo)|brez|izpust(?:i|imo)|jätetään"
)
DROPPED_BEHIND: Final = re.compile(rf"(?:^|[\s(])(?:{DROPPING})\s{_SMALL}$", re.IGNORECASE)
_OPENERS: Final = (
    r"(?:(?:and|but|also|oh|so|ps:?|p\.s\.|edit:?|btw|sorry|ok|ach|und|also|et|y|e|en|och|og)[\s,:]{1,2}){0,3}"
)
NONE_OF_IT: Final = re.compile(
    rf"^{_OPENERS}(?:no(?: more)?|kein(?:e|en)?|pas de|plus de|niente|geen|ingen|inget|žádn[áý]|nada de)\s(?:the\s)?$",
    re.IGNORECASE,
)
_VERBS: Final = (
    r"(?:(?:is|are|['’]s|ist|est|es|está|è|är|er|jest|je|goes|comes|fliegt|fällt|kommt|lassen|werfen|gaat|valt|"
    r"laten|går|"
    r"ryger|sale|se|esce|sai|we|wir|vi|on|now|jetzt|dann|auch|too|also|heute|tonight|leider|bitte|then|doch|definitely|"
    r"sadly|today|den|die|das|can|kan|kann|mag|muss|moet|must|should|soll|doit|peut|puede|può|deve|pode|skal|ska|må|może|"
    r"může|go|gå|partir|salir|uscire|sair)\s){0,4}"
)
OUT: Final = (
    r"(?:is out|out|dropped|gone|cut|off|off the list|cancelled|scrapped|raus|weg|gestrichen|entfällt|flach|aus|"
    r"supprimée?|annulée?|enlevée?|à la trappe|dégage|saute|fuera|eliminada|cae|fuori|tolta|eliminata|salta|via|fora|"
    r"cortada|cai|eruit|geschrapt|vervalt|bort|utgår|struken|ut|udgår|ud|strøket|wypada|odpada|vypadá(?:vá)?|"
    r"ispada|ven|"
    r"pois|streichen(?: wir)?|weglassen|rauswerfen|überspringen|lassen wir (?:weg|aus)|stryker vi|skippar vi|"
    r"hoppar vi över|tar vi bort|stryger vi|dropper vi|kutter vi|schrappen we|laten we weg|slaan we over|"
    r"on (?:la |le |l['’])?(?:supprime|enlève|vire|saute)|(?:la |lo )?(?:quitamos|saltamos|togliamo|saltiamo|tagliamo|"
    r"tiramos|cortamos)|jätetään (?:pois|väliin)|wyrzucamy|wywalamy|skreślamy|vynecháme|škrtáme|izbacujemo|izpustimo)"
)
DROPPED_AFTER: Final = re.compile(
    rf"^[\s,:–—-]{{0,3}}{_VERBS}{OUT}(?!\w)(?=\s*(?:$|[,.;:!()–—-]|then\b|though\b|because\b|weil\b|denn\b|too\b|zu\b|"
    r"trop\b|for\b|tonight\b|heute\b|[^\w\s]))",
    re.IGNORECASE,
)
OUT_ALONE: Final = re.compile(
    rf"^(?:(?:that|it|der|die|das|den|ça|c['’]est|esa?|quella?|die|den|det|no|nein|non|nee|nej|"
    rf"ne)[\s,.:]{{1,2}}){{0,2}}"
    rf"{_VERBS}{OUT}[.! ]*$",
    re.IGNORECASE,
)
_AND: Final = r"\s?(?:and|und|et|y|e|en|och|og|i|a|with|mit|avec|con|com|met|med|for|für|gegen|&|\+|/|,|<->|<>|↔|⇄)\s?"
_SWAP: Final = (
    r"swap|switch|flip|exchange|reverse|tausch(?:e|t|en)?|vertausch(?:e|t|en)?|invers(?:e[rz]?|ons)|"
    r"échang(?:e[rz]?|eons)|"
    r"intervert(?:is|issez|ir)|(?:inter)?cambi(?:a|ar|amos|amo|ate)|scambi(?:a|amo|ate)|inverti(?:amo|mos|r|te)?|"
    r"troc(?:a|ar|amos)|ruil(?:en)?|wissel(?:en)?|omwisselen|byt(?:er|ter?)?|bytt(?:er)?|zamie(?:ń|niamy)|"
    r"prohod(?:it|íme|ime)?|"
    r"zamijen(?:i|imo)|zamenja(?:j|mo)"
)
BEFORE: Final = (
    r"(?:before|ahead of|in front of|vor|avant|antes (?:de|do|da)|prima (?:di|del|della)|voor|före|innan|før|"
    r"przed|před|prije|pred|ennen)"
)
AFTER: Final = (
    r"(?:after|following|behind|nach|hinter|après|después (?:de|del)|tras|dopo|depois (?:de|do|da)|na|achter|"
    r"efter|etter|po|"
    r"nakon)"
)
_NO_OBJECT: Final = rf"(?!(?:{BEFORE}|{AFTER}|during|for|between|während|für|zwischen)\s)"  # swap guitars after Moth
BETWEEN: Final = re.compile(
    r"(?<!\w)(?:between|in between|zwischen|entre|tra|fra|tussen|mellan|mellem|mellom|między|mezi|između)\s(?:the\s)?"
    rf"({MARK}){_AND}(?:the\s)?{MARK}",
    re.IGNORECASE,
)
SWAPPED: Final = re.compile(
    rf"(?:^|[\s,])(?:{_SWAP})(?:\s{_NO_OBJECT}[^\s\ue000-\ue002]{{1,12}}){{0,3}}\s({MARK}){_AND}(?:the\s)?({MARK})",
    re.IGNORECASE,
)
SWAPPED_AFTER: Final = re.compile(
    rf"({MARK}){_AND}(?:the\s)?({MARK})\s(?:[^\s\ue000-\ue002]{{1,12}}\s){{0,3}}(?:{_SWAP}|the other way (?:a?round)|"
    r"change places|andersrum|umgekehrt|à l['’]envers|al revés|al contrario|omgekeerd|tvärtom|omvendt)(?!\w)",
    re.IGNORECASE,
)
_FOR: Final = r"(?:with|for|by|to|against|durch|gegen|für|mit|par|avec|por|con|com|door|met|voor|mot|med|för|za)"
REPLACED: Final = re.compile(
    rf"(?:^|[\s,])(?:{_SWAP}|replace|change|ersetz(?:e|t|en)|remplac(?:e[rz]?|ons)|sustitu(?:ye|ir|imos)|"
    rf"sostitui(?:re|amo|sci)?|substitu(?:i|ir|ímos)|vervang(?:en)?|erstatt(?:er)?|ersätt(?:er)?)(?:\swe|"
    rf"\swir)?\s(?:the\s)?"
    rf"({MARK})\s{_FOR}\s(\S.*)$",
    re.IGNORECASE,
)
_INSTEAD_OF: Final = (
    r"(?:instead of|in place of|rather than|replaces|replacing|anstatt|anstelle von|statt|au lieu de|à la place de|"
    r"en vez de|en lugar de|invece di|al posto di|em vez de|no lugar de|in plaats van|istället för|i stället för|"
    r"i stedet for|zamiast|místo|umjesto|namesto)"
)
INSTEAD_OF: Final = re.compile(rf"^(\S.{{0,100}}?),?\s{_INSTEAD_OF}\s(?:the\s)?({MARK})", re.IGNORECASE)
INSTEAD_IN_FRONT: Final = re.compile(
    rf"^(?:[^\s\ue000-\ue002]{{1,12}}\s){{0,3}}{_INSTEAD_OF}\s(?:the\s)?({MARK}),?\s(\S.*)$", re.IGNORECASE
)
_EXACTLY: Final = r"(?:(?:right|straight|directly|just|direkt|gleich|juste|justo|subito|direct|rakt|lige|rett)\s)?"
BESIDE: Final = re.compile(
    rf"(?:^|[\s,(]){_EXACTLY}(?:(?P<before>{BEFORE})|(?P<after>{AFTER}))\s(?:the\s)?$", re.IGNORECASE
)
_FIRST: Final = (
    r"first|(?:at|to) the (?:very )?(?:start|top|front|beginning)|up front|as (?:the )?opener|to open|zuerst|"
    r"als erstes|"
    r"als erste nummer|als opener|(?:an|am) (?:den )?anfang|ganz nach vorne?|en premier|au début|en ouverture|"
    r"primer[oa]?|"
    r"al principio|de primera|para abrir|per prim[ao]|all['’]inizio|in apertura|primeiro|no (?:início|começo)|"
    r"als eerste|"
    r"eerst|aan het begin|först|som första|først|som første|na początek|najpierw|na začátek|nejdřív|prvo|na početku"
)
_LAST: Final = (
    r"last|(?:right |in )?(?:at|to) the (?:very )?end|as (?:the )?(?:closer|last (?:one|song))|to (?:finish|close|"
    r"end)(?: with)?|"
    r"zum schluss|zuletzt|(?:am|ans) (?:ende|schluss)|als letztes|als rausschmeißer|en dernier|à la fin|pour finir|"
    r"en clôture|al final|de última|por último|para cerrar|per ultim[ao]|alla fine|in chiusura|no (?:fim|final)|"
    r"para fechar|als laatste|aan het eind(?:e)?|tot slot|sist|sidst|til sidst|til slutt|till sist|på slutet|na koniec|"
    r"na końcu|na konec|nakonec|na kraju"
)
_ENCORE: Final = (
    r"(?:as|for|in|to) (?:an |the )?encores?|als zugabe|in die zugabe|(?:en|au) rappel|en bis|de bis|come bis|no bis|"
    r"als toegift|som extranummer|som ekstranummer|na bis|jako přídavek"
)
_NTH: Final = (
    r"(?P<one>(?:set|sæt|sett) (?:one|1|eins|un|uno|um|een|ett|en)|(?:first|1st|erste[nrs]?|premier|1er|primer|"
    r"primo|primeiro|"
    r"eerste|första|første) (?:set|half|hälfte|teil|passage|pase|sett|sæt))"
    r"|(?P<two>(?:set|sæt|sett) (?:two|2|zwei|deux|dos|due|dois|twee|två|to)|(?:second|2nd|zweite[nrs]?|deuxième|"
    r"2ème|2e|segundo|"
    r"secondo|tweede|andra|anden|andre) (?:set|half|hälfte|teil|passage|pase|sett|sæt))"
    r"|(?P<three>(?:set|sæt|sett) (?:three|3|drei|trois|tres|tre|três|drie)|(?:third|3rd|dritte[nrs]?|troisième|"
    r"3e|tercer|terzo|"
    r"terceiro|derde|tredje) (?:set|half|teil|passage|pase|sett|sæt))"
)
_INTO: Final = (
    r"(?:(?:in|into|to|ins|nach|dans|au|en|nel|al|no|ao|para|naar|till|til|i|do|u|for)\s(?:(?:the|das|den|le|el|"
    r"il|o|het|de|det)\s)?)?"
)
PLACE: Final = re.compile(
    rf"(?:^|(?<=[\s,(])){_EXACTLY}(?:(?P<first>{_FIRST})|(?P<last>{_LAST})|(?P<encore>{_ENCORE})|"
    rf"{_INTO}(?:{_NTH}))(?!\w)",
    re.IGNORECASE,
)
_WITH: Final = r"(?:with|on|mit|par|avec|sur|con|com|met|med|od|z|s|sa)\s(?:the\s)?$"
OPENS: Final = re.compile(
    r"(?:^|[\s,])(?:open|start|begin|kick off|fangen|starten|beginnen|eröffnen|commence|ouvre|attaque|démarre|"
    r"empezamos|"
    r"abrimos|empezar|abrir|iniziamo|apriamo|cominciamo|partiamo|começamos|openen|börjar|öppnar|starter|åbner|åpner|"
    rf"begynner|zaczynamy|začínáme|počinjemo)(?:ing|s)?\s(?:we\s|wir\s|vi\s)?{_WITH}",
    re.IGNORECASE,
)
CLOSES: Final = re.compile(
    r"(?:^|[\s,])(?:close|finish|end|hören|enden|schließen|finit|termine|ferme|terminamos|cerramos|acabamos|finiamo|"
    r"chiudiamo|fechamos|eindigen|sluiten|slutar|avslutar|slutter|avslutter|kończymy|končíme|završavamo)(?:ing|es|s)?\s"
    rf"(?:we\s|wir\s|vi\s)?{_WITH}",
    re.IGNORECASE,
)
ADDS: Final = re.compile(
    r"(?<![^\s,.:])(?:put|add|plus|comes?|kommt(?: noch| dann)?|vient|viene|vem|komt|kommer|"
    r"do(?:ing)?|play(?:ing)?|have|use|stick|chuck|throw|slot|include|wants?|"
    r"(?:finish|close|end|open|start|begin)(?:ing|es|s)? (?:with|on)|dafür|stattdessen|dazu|spielen(?: wir)?|"
    r"nehmen(?: wir)?|machen(?: wir)?|met(?:s|tez|tons)?|ajoute[rz]?|joue[rz]?|à la place|pon(?:er|emos|ed|go)?|"
    r"met(?:e|emos|er)|"
    r"añad(?:e|imos|ir)|tocamos|hacemos|aggiung(?:i|iamo|ere)|mett(?:i|iamo|ere)|facciamo|põe|colocamos|doen(?: we)?|"
    r"zetten(?: we)?|spelen(?: we)?|lägg(?:er)? till|spelar(?: vi)?|tilføj(?:er)?|legg(?:er)? til|spiller(?: vi)?|"
    r"tar(?: vi)?|"
    r"(?:in |at )?(?:the )?same (?:place|spot|slot)|an (?:der|die) (?:gleichen?|selben?) stelle|an seiner stelle|"
    r"à la même place|en el mismo sitio|allo stesso posto|no mesmo lugar|op dezelfde plek|på samma (?:plats|ställe)|"
    r"samme sted|"
    r"also|too|rein|neu|new)\s(?:to\s(?:do|play|add|have)\s)?(?:in\s(?=\S))?",
    re.IGNORECASE,
)
FILLERS: Final = re.compile(
    r"^[\s,]*(?:in there|in there instead|instead|there|as ?well|too|also|in|back in|on the list|rein|auch|noch|"
    r"stattdessen|"
    r"dafür|à la place|aussi|también|en su lugar|anche|invece|também|ook|erbij|i stället|också|i stedet|også|"
    r"please|bitte|pls)"
    r"(?!\w)",
    re.IGNORECASE,
)
ASKS: Final = re.compile(
    r"(?:^|[\s,.])(?:(?:can|could|shall|should) (?:we|you|i)|how about|what about|können wir|könnten wir|kannst du|"
    r"könnt ihr|on peut|peut-on|on pourrait|tu peux|podemos|podríamos|puedes|possiamo|potremmo|puoi|kunnen we|"
    r"kan (?:vi|du|je)|kunne vi|možemo|můžeme|możemy)(?!\w)",
    re.IGNORECASE,
)
SAYS_YES: Final = re.compile(
    r"^(?:[^\w]*)(?:yes|yep|yeah|yup|ok(?:ay)?|sure|fine|good (?:shout|idea|call|plan)|done|agreed|will do|deal|"
    r"great|perfect|"
    r"right|true|ja|jo|jep|klar|gut|passt|gerne|machen wir|stimmt|oui|ouais|d['’]accord|bien sûr|ça marche|sí|"
    r"si|vale|"
    r"claro|hecho|va bene|certo|d['’]accordo|sim|combinado|goed|prima|is goed|doen we|visst|gärna|okej|fint|tak|"
    r"dobra|jasne|jasně|može|super|top|[^\W\d_]+['’]s right)(?!\w)|^[^\w]*(?:👍|🙌|👌|✅)",
    re.IGNORECASE,
)
SAYS_NO: Final = re.compile(
    r"^(?:[^\w]*)(?:no|nope|nah|never|sorry no|nein|nö|nee|non|no way|não|nej|nei|nie|ne)(?=$|[\s.,!])", re.IGNORECASE
)
NOT_ANY_MORE: Final = re.compile(
    r"(?:\b(?:not|no longer|instead of|rather than|was|from|nicht|statt|von|pas|plutôt que|no|non|não|niet|inte|ikke)\s"
    r"(?:in\s|en\s|i\s)?)$",
    re.IGNORECASE,
)
KEY_AHEAD: Final = re.compile(
    r"(?:(?:^|[\s,(])(?:in|en|em|auf|to|is|now|key of|w|v|u|på|i|til|till|är|er|è|est|es|ist|jetzt|lieber|plutôt|mejor|"
    r"meglio)|[:=(→>]|->|[–-])\s?$",
    re.IGNORECASE,
)
QUESTION: Final = re.compile(
    r"^(?:(?:what|how|where|who|when)['’]?s|is|are|does|did|do we|what|when|who|how|why|where|wann|wer|wie|warum|"
    r"ist|sind|spielen wir|est-ce|qui|quand|"
    r"comment|cuándo|quién|cómo|quando|chi|come|wanneer|hoe|är|hur|när|er|hvordan|hvornår)\s(?!much\b)",
    re.IGNORECASE,
)
INSTEAD: Final = re.compile(
    r"(?:^|\s)(?:instead|stattdessen|dafür|à la place|en su lugar|invece|no lugar|daarvoor|i stället|i stedet)(?!\w)",
    re.IGNORECASE,
)
IS_PUT: Final = re.compile(  # between a title and its new place: Moth kommt bitte ans Ende
    r"^[\s,:]*+(?:(?:is|are|goes|comes|moves?|moved|now|then|please|pls|should|to|be|go|up|down|back|instead|as|in|"
    r"kommt|geht|bitte|jetzt|dann|doch|lieber|ganz|spielen|machen|nehmen|setzen|wir|passe|va|vient|plutôt|en|on|la|le|"
    r"pasa|viene|mejor|por favor|meglio|passa|vai|vem|melhor|gaat|komt|liever|graag|går|kommer|ligger|tar|vi|hellre|"
    r"heller|idzie|půjde|ide)[\s,:]++){0,5}$",
    re.IGNORECASE,
)
PUT_THERE: Final = re.compile(
    r"^\s*(?:$|[,.;:!?)–—-]|please|pls|bitte|instead|then|now|because|cos|so|as|since|por|s['’]il|per favore|"
    r"graag|tack|"
    r"jetzt|dann|spielen|machen|setzen|stellen|tonight|heute|[^\w\s])",
    re.IGNORECASE,
)
OUT_SAID: Final = re.compile(  # the answer to a question about a song: on l'enlève; ok, drop it then
    r"\b(?:(?:drop|cut|lose|skip|scrap|bin|ditch) (?:it|that(?: one)?)|leave (?:it|that) out|on l['’]enlève|"
    r"on (?:la|le) vire|"
    r"on (?:la|le) supprime|(?:den|die|das|dann) (?:streichen|lassen) wir|streichen wir|lassen wir weg|"
    r"(?:lo|la) quitamos|fuera entonces|(?:la|lo) togliamo|a gente tira|schrappen we|dan schrappen|vi stryker den|"
    r"vi dropper den|den stryger vi)\b",
    re.IGNORECASE,
)
MAY_BE_OUT: Final = re.compile(  # words with which talk may take a song out in a way that is not understood
    r"(?<![\w'’])(?:not|no|never|don['’]?t|won['’]?t|can['’]?t|skip\w*|drop\w*|los(?:e|ing)|cut|out|off|instead|"
    r"too long|nicht|kein\w*|weg|raus|streich\w*|lassen|pas|plus|supprim\w*|enl[eè]v\w*|fuera|quit\w*|non|togli\w*|"
    r"salt\w*|não|fora|tir\w*|niet|geen|schrap\w*|inte|ingen|ikke|bort|stry[kg]\w*|slopa\w*|utgår|udgår|nie|bez|"
    r"wyrzuc\w*|vynech\w*|škrt\w*|ne|brez|izbac\w*|ei|pois)(?![\w'’])",
    re.IGNORECASE,
)
