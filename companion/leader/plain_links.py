"""Words that may stand between a song and its value without making it doubtful: "2 is in G now", "die 3 bleibt in D".

A word that is not here may mean nothing too; beside it a value is asked, for it may as well change what is meant.
"""

from collections.abc import Sequence
from typing import Final

from companion.leader.phrase_lists import AS_SHOWN
from companion.leader.reply_words import SIGN, ReplyWord, phrase_of, set_of
from companion.leader.said_keys import NOW

# By kind of word, in the languages that leaders write in.
_VERBS: Final = set_of(
    "is are s be stays stay remains remain goes do does play plays sing sings ist sind bleibt bleiben geht spielen est "
    "sont reste restent va on joue e sono resta restano va fa facciamo es son queda quedan sigue tocamos hacemos fica "
    "ficam sao fazemos staat staan blijft blijven doen spelen gaat ar star blir spelar er staar bliver spiller jest "
    "zostaje gramy je zustava hrajeme has have moved moves changed"
)
_ARTICLES: Final = set_of(
    "the a an la le l il lo gli i les el los las o os as der die das den dem det de het een ein eine en un una um uma "
    "et ten"
)
_BETWEEN: Final = set_of(
    "in key of to at into for with on im em a en i w v do u na auf zu sur aus bei del della do da de di du von van fra"
)
_WHO: Final = set_of(
    "we i you it its this that these those which one ones thats they wir ich du es we ik jij je on nous vous "
    "cest ce noi io tu lo la ci nos yo tu nosotros nos eu vi jag du vi jeg my ja c wij me mig our your my"
)
_AND: Final = set_of(
    "and also too as well both all und auch beide alle alles et aussi toutes tous tout e anche tutte tutti tutto y "
    "tambien ambas ambos todas todos tambem en ook allebei allemaal och ocksa bada og ogsa begge alla taky tez"
)
_YES: Final = set_of(
    "yes yep yeah ok okay fine right correct confirmed still always again definitely obviously please sorry actually "
    "instead just ja genau richtig stimmt noch wie immer oui toujours si giusto ancora sim sigue klopt nog ja stammer "
    "sure then so um uh er erm well ben hmm"
)
_LINKS: Final = _VERBS | _ARTICLES | _BETWEEN | _WHO | _AND | _YES | set(NOW)


def are_plain_links(words: Sequence[ReplyWord], at: int, end: int) -> bool:
    """Return whether these words mean nothing between a song and its value: "is still in", "as you have it"."""
    if all(word.kind == SIGN or word.low in _LINKS for word in words[at:end]):
        return True
    return phrase_of(words, at, AS_SHOWN) >= end - at
