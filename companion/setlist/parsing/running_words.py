"""The words around titles in sentences: we open with, followed by; danach; puis; after the interval."""

import re
from typing import Final

# Words of each language that lead from one song to the next (dictionaries; no single source).
_THEN: Final = (
    "and|then|so|now|next up|next|first up|firstly|first|secondly|second|thirdly|third|fourth|lastly|finally|also|plus|"
    "ok|okay|right|well|after (?:that|this|which|it)|afterwards|followed by|from there|last of all|before that|"
    "und|dann|danach|darauf|anschließend|zuerst|zunächst|als erstes|als nächstes|zum schluss|zum abschluss|am ende|"
    "gefolgt von|gleich|direkt|weiter|"
    "et|puis|ensuite|après|d'abord|enfin|pour commencer|pour finir|suivi de|"
    "y|luego|después|primero|seguido de|para (?:empezar|terminar|acabar)|por último|"
    "e|ed|poi|dopo|quindi|prima|infine|per (?:iniziare|cominciare|finire|chiudere)|seguita? da|"
    "depois|a seguir|primeiro|por fim|seguida? de|"
    "en|dan|daarna|vervolgens|eerst|tot slot|gevolgd door|"
    "och|og|sen|sedan|så|därefter|derefter|deretter|først|först|till sist|til slutt|til sidst|följt av|efterfulgt af"
)
_WHO: Final = (
    "i|we|they|you|it|he|she|wir|ich|ihr|es|on|nous|je|vi|jeg|jag|ik|wij|vamos|io|noi|u|"
    "that|there|here|this|which|das|ça|ce|det|dat"
)
_HELP: Final = (
    r"'ll|’ll|'re|’re|'d|’d|'s|’s|\s(?:will|would|are|is|be|then|always|usually|normally|going to|gonna|can|should|"
    r"comes|goes|sera|est)"
)
_VERB: Final = (
    "open|start|begin|kick|close|finish|end|go|move|play|do|have|got|segue|carry on|continue|follow|come back|"
    "launch|run|"
    "opening|starting|beginning|kicking|closing|finishing|ending|going|moving|playing|doing|having|"
    "opens|starts|begins|kicks|closes|finishes|ends|goes|moves|plays|follows|comes|come|"
    "spielen|spiele|beginnen|starten|eröffnen|fangen|schließen|enden|machen|bringen|kommt|folgt|geht|geht's|"
    "commence|commençons|ouvre|ouvrons|attaque|attaquons|enchaîne|enchaînons|joue|jouons|finit|finissons|termine|"
    "terminons|fait|faisons|vient|"
    "abrimos|empezamos|arrancamos|seguimos|tocamos|terminamos|cerramos|acabamos|hacemos|viene|sigue|"
    "apriamo|iniziamo|cominciamo|facciamo|suoniamo|chiudiamo|finiamo|proseguiamo|segue|"
    "começamos|fechamos|"
    "openen|spelen|sluiten|eindigen|doen|komt|volgt|"
    "öppnar|börjar|spelar|slutar|avslutar|kör|kommer|følger|åbner|begynder|spiller|slutter|åpner|begynner|avslutter"
)
_AFTER_VERB: Final = (
    "with|w/|w|on|into|to|by|up|off|out|it|things|over|straight|right|directly|back|down|then|both|"
    "the (?:night|evening|show|gig|set|set off|night off|evening off)|"
    "mit|auf|ab|an|los|den abend|avec|par|sur|la soirée|con|por|la noche|la serata|la sera|com|met|af|aan|med|"
    "kvällen|aftenen|kvelden"
)
_ONE: Final = (
    r"(?:(?:a|the|our|my|one|der|die|das|le|la|el|il|de|den)\s)?"
    r"(?:(?:big|very|real|proper|nice|slow|fast|quick|quiet|loud|short|long|first|second|third|fourth|fifth|sixth|"
    r"next|last|final|slower|faster|quicker|"
    r"langsame[rs]?|schnelle[rs]?|erste[rs]?|letzte[rs]?|nächste[rs]?|premier|dernier|última?|ultim[ao]|sista|siste|sidste|laatste)"
    r"\s){1,2}(?:one|song|tune|number|dance|waltz|up|nummer|lied|stück|titre|morceau|tema|canción|canzone|brano|música|låt|låten|"
    r"sang|sangen|liedje)|"
    r"(?:the\s)?(?:opener|closer|openers|finisher|starter|opening(?:\s(?:song|number|tune))?|closing(?:\s(?:song|number|tune))?|"
    r"walk[- ]?on|encore|ending|finale|"
    r"opener|eröffnung|ouverture|apertura|chiusura|cierre|åpning|öppning|afsluiter)|"
    r"(?:(?:the|der|die|das|le|la|el|il|de|den)\s)?(?:first|second|third|fourth|fifth|sixth|seventh|eighth|next|last|erste|zweite|dritte|"
    r"vierte|letzte|nächste|dernière?|première?|última?|prim[ao]|ultim[ao]|eerste|laatste|första|sista|første|siste)\s"
    r"(?=is\s|will\s|ist\s|est\s|es\s|è\s|é\s|är\s|er\s)(?:is|will be|ist|est|es|è|é|är|er)|"
    r"(?:number|no\.?|nr\.?|nummer|numéro|song|tune)\s(?:\d{1,2}|one|two|three|four|five|six|seven|eight|nine|ten|eins|zwei|drei|vier|fünf|sechs|sieben|acht|"
    r"neun|zehn)(?!\w)"
)
_IS: Final = r"(?:['’]s|\s(?:is|will be|was|are|ist|est|es|è|é|är|er))"
LEAD: Final = re.compile(
    rf"(?:(?:{_ONE})(?:{_IS})?(?:\s(?:with|w/|on))?\s?[:,]?(?=\s)|"
    rf"(?:{_WHO})(?:{_HELP}){{1,3}}(?:\s(?:{_VERB}))?(?:\s(?:{_AFTER_VERB})){{0,4}}(?=[\s:,])|"
    rf"(?:(?:{_WHO})\s)?(?:{_VERB})(?:\s(?:{_AFTER_VERB})){{1,4}}(?=[\s:,])|"
    rf"(?:{_WHO})\s(?:{_VERB})(?=[\s:,])|"
    rf"(?:{_VERB})\s(?:{_WHO})(?:\s(?:{_AFTER_VERB})){{0,4}}(?=[\s:,])|"
    r"(?:kommt|folgt|kommer|følger|följer|vient|viene|sigue|segue|komt|volgt|follows)(?=\s)|"
    rf"(?:straight|right|directly|leading|running|segue|direkt|direct|directement)\s(?:on\s)?"
    r"(?:into|to|in|in den|dans)(?=\s)|"
    rf"(?:into|with|w/|comes|its|it's|it’s|mit|avec|con|met|med)(?=\s)|"
    rf"(?:{_THEN})(?=[\s:,])"
    r")[\s:,]+",
    re.IGNORECASE,
)
TALKS: Final = re.compile(rf"\b(?:{_WHO})\b", re.IGNORECASE)
SEGUE: Final = re.compile(r"\b(?:straight|directly|segue|right)\s(?:on\s)?(?:into|to)\b", re.IGNORECASE)
AFTER_BREAK: Final = re.compile(
    r"\b(?:after|following|back from|coming back from) (?:the |our |a )?(?:short )?"
    r"(?:break|interval|intermission|pause|dinner|supper|tea|buffet|food|meal)\b|"
    r"\bnach (?:der |dem )?(?:kurzen )?(?:pause|essen|buffet)\b|"
    r"\baprès (?:la |l['’]|le )?(?:pause|entracte|repas|dîner)\b|"
    r"\b(?:después|tras)(?: de)?(?:l| la| el)? (?:descanso|pausa|cena)\b|"
    r"\bdopo (?:la |l['’]|il )?(?:pausa|intervallo|cena)\b|"
    r"\bdepois do (?:intervalo|jantar)\b|\bna de (?:pauze)\b|\befter (?:pausen|maten|middagen)\b|\better pausen\b",
    re.IGNORECASE,
)
ENCORE: Final = re.compile(
    r"\b(?:encores?|zugaben?|rappels?|en bis|bis :|toegift|ekstranummer|extranummer|propina)\b|"
    r"\b(?:if|should) (?:they|people|anyone|the (?:crowd|audience|guests))\b.{1,30}\b(?:more|another)\b|"
    r"\bfalls sie (?:noch )?(?:mehr|eins) wollen\b|\bs['’]ils en (?:re)?demandent\b",
    re.IGNORECASE,
)
GIVES_REASON: Final = re.compile(  # small words: Because of You may be a title
    r"(?:because|cos|coz|'cause|weil|denn|porque|perché|omdat|want|fordi|eftersom|koska|ponieważ|protože|jer)"
    r"(?!\w)|parce qu"
)
TO_FINISH: Final = re.compile(
    r"\s(?:to (?:finish|end|close)|(?:at|on) the end|(?:as|for) (?:an |the )?encore|last|"
    r"(?:zum|als) (?:ab)?schluss|am ende|"
    r"pour finir|à la fin|para (?:terminar|acabar|cerrar|fechar)|al final|per finire|alla fine|tot slot|"
    r"aan het eind(?:e)?|till sist|til (?:slut|sidst|slutt)|na koniec|na konec|nakonec)$",
    re.IGNORECASE,
)
CLOSING: Final = re.compile(
    r"\b(?:clos|finish|end(?:s|ing)?\b|schließ|beend|termin|fini|cerra|cierra|chiud|afsluit|sluit|eindig|avslut|slut)",
    re.IGNORECASE,
)
FOR_PART: Final = re.compile(  # For the arrival of guests: ...
    r"^(?:and |then |und |et |y |e |en |och |og )?(?:for|after|before|during|while|as|at|to|when|once|later|until|over|"
    r"für|nach|vor|während|zum|zur|beim|bei|wenn|später|"
    r"pour|après|avant|pendant|à|au|quand|para|después|antes|durante|cuando|al|per|dopo|prima|quando|all|"
    r"depois|voor|na|tijdens|bij|för|efter|före|under|till|til|etter|før|ved|når|när|to)\b",
    re.IGNORECASE,
)
OF_LIST: Final = re.compile(  # list for Sunday: ...
    r"\b(?:set ?lists?|song ?list|list|songs?|tunes|order|running order|set|tonight|heute|setliste|liste|lista|lijst|"
    r"programm?e?|låtlista|repertoire|scaletta|lieder|titel|plan|as follows|sat|fri|sun|"
    r"(?:mon|tues|wednes|thurs|fri|satur|sun)day|samstag|freitag|sonntag|samedi|vendredi|sábado|viernes|sabato|venerdì|zaterdag|vrijdag|lördag|lørdag|fredag)\b",
    re.IGNORECASE,
)
CORRECTS: Final = re.compile(  # in small letters, or at the front: a title may hold such a word
    r"^(?:Sorry|Actually|Oh|Ach|Doch|Finalement)\b|"
    r"\b(?:sorry|actually|instead|swap|swapped|changed?|not|no longer|was|wrong|drop|dropped|skip|cut|move|moved|"
    r"replaced?|REPLACED|rather than|doch|statt|sondern|plutôt|pas|finalement|mejor|invece|non|ikke|inte|niet)\b"
)
_SMALL: Final = (
    "a an the of to in on at and or for from by with as is my no not into over under up down out off but nor vs n "
    "'n & + der die das dem den des ein eine und von vom mit im am zu zum zur auf für bei ohne le la les l un une "
    "de du d et à au aux en dans sur sans pour avec el los las del y e con sin por para al lo il gli i dei della "
    "di da che per su o os do dos na em um uma het een van voor met op och ett med på för till av og til af det"
)
SMALL: Final = frozenset(_SMALL.split())
