"""The turns of phrase of replies, by what they do: doubt, correct, pass on, point to other songs, or mean nothing."""

from typing import Final

from companion.leader.hour_words import folded_phrases, folded_words
from companion.leader.reply_words import phrases, phrases_by_first_word, set_of

HEDGES: Final = phrases(
    "tror jag | jag tror | tror jeg | jeg tror | denk ik | ik denk | volgens mij | misschien | kanske | maske | "
    "chyba | "
    "moze | acho | talvez | penso | penso che | creo que | pienso que | if memory serves | if memory serves me | "
    "acho que | "
    "i think | i guess | i believe | i reckon | i suppose | i hope | id say | i would say | maybe | perhaps | "
    "probably | prob | possibly | presumably | might be | could be | should be | pretty sure | im pretty sure | "
    "fairly sure | im fairly sure | not 100 | not 100 % | not 100 sure | not totally sure | not entirely sure | "
    "not quite sure | if i remember right | if i remember | if i remember correctly | from memory | iirc | "
    "afaik | as far as i know | as far as i remember | or so | tentative | tentatively | most likely | likely | "
    "tbc | to be confirmed | provisionally | for now | ? | glaube ich | glaub ich | ich glaube | vielleicht | "
    "wahrscheinlich | je crois | peut etre | credo | forse | creo | i assume | assume | unless | "
    "dont quote me | double check | dont hold me to it | ish | not certain | im not certain | not sure though | "
    "kinda | i am guessing | im guessing | guessing | im not sure | not sure | "
    "i want to say | id guess | i would guess | my guess | my guess is | good chance | 90 % | "
    "90 % sure | almost sure | almost certain | not a hundred percent | if im not mistaken | "
    "unless im wrong | could well be | may be | might have changed | might change | may change | "
    "subject to change | if anything | im thinking | something like | or thereabouts | "
    "somewhere around | somewhere near | somewhere about | something around | in the region of | more or less | "
    "give or take | i seem to remember | "
    "i vaguely remember | used to be | at the moment | we think | usually | normally"
)
CORRECTIONS: Final = folded_phrases(
    "sorry | ignore | sorry ignore | disregard | agh | argh | actually | correction | i meant | i mean | my mistake | "
    "i read it wrong | read it wrong | i misread it | misread | i misread | falsch gelesen | verlesen | mal lu | leí "
    "mal | letto male | verkeerd gelezen | läste fel | leste feil | læste forkert | my bad | make that | make it | "
    "make | change | alter | please alter | kindly alter | please change | changed | changed to | has changed to | now "
    "| instead | maintenant | ahora | actualmente | adesso | agora | nu | nå | teraz | teď | should be | should have "
    "been | rather | update | new key | moved to | is now | from now on | were changing | i said | doch | nein doch | "
    "switched to | meant | i meant to say | should say | should read | my apologies | apologies | let me correct that "
    "| revised | amended | fix | sorry no | better | lets make it | lets do | lets make that | changing | were doing | "
    "moved | mixed up | the wrong way round | only change | the only change | only one change | one change | only "
    "correction | the only correction | the only thing thats changed | the only thing that has changed | the only "
    "thing different | cambio | neu | nytt | pardon | perdon | scusa | scusate | scusi | mi dispiace | entschuldigung "
    "| undskyld | ursakta | forlat | unnskyld | beklager | bocsanat | bocs | przepraszam | promin | prominte | excuse "
    "moi | desole | desolee | lo siento | perdona | perdonad | disculpa | pardonne | hoppla | zut | ojoj | ach so | "
    "ups | uups | oeps | oups | opps | huch | hoppsan | oj | ojdå | ojej | ooops | upsi | ups sorry | hovsa | hupsista "
    "| jejda | ajaj | vergeef me | fehler | falsch | errata | errore mio | mi sono sbagliato | mi sono sbagliata | me "
    "equivoqué | me he equivocado | je me suis trompé | je me suis trompée | enganei-me | foute boel | verkeerd | fel "
    "av mig | jag skrev fel | skrev fel | pomyłka | pomyliłem się | pomyliłam się | spletl jsem se | spletla jsem se | "
    "korrektur | korrigering | correzione | corrección | rectification | correção | correctie | rettelse | rättelse | "
    "poprawka | oprava"
)
# They announce what is right, or take back what was just said.
RETRACTIONS: Final = phrases(
    "agh no | argh no | ugh no | gah no | aargh no | er no | eh no | no no | um no | ach nein | no wait | no hang on "
    "| no hold on | wait | wait no | scratch that | oops | typo | ignore that | "
    "forget that | forget it | "
    "not what i said | scrap that | strike that | cancel that | whoops | ah no | oh no | hang on | hold on | "
    "correct that | correcting myself | on second thoughts | on second thought | wrong | i was wrong | "
    "not any more | "
    "not anymore | ignore this | thats wrong | that was wrong | that isnt right | thats not right | "
    "forget what i said | scrap what i said | forget all that"
)
# They take back a joke: "everything in E. Kidding. 1 E, 2 Am".
JOKES: Final = phrases(
    "just kidding | im kidding | kidding | only kidding | im joking | just joking | only joking | joking | "
    "joke | jk | "
    "j / k | haha no | not really | im messing | just messing | only messing | messing with you | im only messing | "
    "no seriously | but seriously | seriously | seriously though | no but seriously | no but really | "
    "scherz | kleiner scherz | spass | je rigole | je plaisante | es broma | scherzo | sto scherzando | grapje"
)
# Before a key.
MOVED: Final = phrases_by_first_word(
    (
        *(
            f"{aux}{verb}{way} to"
            for aux in ("", "has ", "have ", "weve ", "is ")
            for verb in ("gone", "went", "dropped", "moved", "lowered", "raised", "taken", "brought", "shifted", "put")
            for way in ("", " it", " up", " down", " it up", " it down", " that up", " that down")
        ),
        "back in",
        "back to",
    )
)
FILLERS: Final = folded_words(
    "heute being quindi dunque donc bij ved vid las los les "
    "oh proper kindly fur voor pour para dla habe ur is are it its in thats this these those the we do does "
    "play plays "
    "please with on be will ll key of "
    "song number for and also just ok okay so well both all each every stays stay still right definitely obviously "
    "course "
    "def sure certain a an lol haha great cool perfect fine good there here hi hey hiya hello plus hear our your you "
    "remains remain i at guys mate im ist sind und mit est en et c'est es e der die das den le la il lo numero "
    "nummer heres link "
    "date day gig tonight big nice always lets let's let keep keeping which have got youre theyre has sing sings um "
    "uh er erm hmm bye okey yes yeah yep ps pls plz inc inclusive too really ones easy sounds sounding concert one "
    "one's alone own himself herself to obvs obviously defo deffo totally yup aye thatll attached provided enclosed "
    "available gar går geht bei og och wir on vi es va van staat lol r w ofc song's please do c'est hej hei hoi "
    "coucou hola salut sont son der den det som i'm number's "
    "sange sanger latar canciones chansons morceaux lieder "
    "gibt gibts hay stucke brani nummers alla va que temas titres "
    "bleibt bleiben blijft blijven toujours reste restent nadal zostaje zostają rimane rimangono resta restano "
    "sigue siguen continua continúa fortfarande stadig fortsatt forblir forbliver zůstává zostáva ostaje ostane "
    "gewoon einfach aussi anche también también també também också även også ook auch też również taky také "
    "myös szintén immer noch "
    "el il lo gli del dal dello della dal nel "
    "muss müssen moet moeten sein zijn essere être deve devono doit doivent debe deben måste må være vara"
)
COLOURS: Final = set_of(
    "as played should then usual again think about my me by from any more goes go "
    "mine yours his their her did done kept he she they only normally usually days use hes shes been like because "
    "know mean say want wanted says whole entire were last next than used had not's"
)
DONT_KNOW: Final = phrases(
    "dont know | i dont know | dont know yet | dunno | no idea | no clue | not sure | not sure yet | "
    "im not sure | unsure | unknown | havent decided | havent decided yet | not decided | not decided yet | "
    "tbc | tbd | tba | n / a | weiss nicht | weiß nicht | keine ahnung | let you know | will let you know | "
    "ill let you know | get back to you | ill get back to you | will get back to you | come back to you | "
    "ill check | will check | need to check | ill have to check | have to check | must check | ill find out | "
    "find out | cant remember | i cant remember | i forget | je ne sais pas | sais pas | non so | no se | "
    "pass | no idea yet | we will see | well see | lets see | later | i dont know yet | dont remember | "
    "i dont remember | not known | not known yet | couldnt say | "
    "dont have that | couldnt tell you | im not sure about | not sure about | no idea about | "
    "waiting to hear | still waiting to hear | still waiting | waiting on | havent heard | not heard | "
    "will tell you | will tell you tomorrow | tell you tomorrow | tell you later | ill tell you | "
    "will confirm | ill confirm | to be decided | well work it out | well work it out on the night | "
    "on the night | well decide on the night | depends | it depends | depends on who sings | "
    "depends on the singer | under discussion | undecided | still deciding | havent a clue | "
    "not a clue | beats me | search me | who knows | no clue sorry | no idea sorry"
)
YOU_DECIDE: Final = phrases(
    "you decide | your call | up to you | you choose | your choice | whatever you like | whatever you want | "
    "whatever | as you like | i dont mind | dont mind | dont care | doesnt matter | whichever | either | "
    "whatever suits you | you pick | egal"
)
ASKS: Final = phrases(
    "ask | check with | talk to | speak to | speak with | call | text | ring | phone | email | message | frag | "
    "demande à | demande a | chiedi a | best ask | youd better ask | you should ask | please ask | "
    "best to ask | have a word with | run it by | confirm with"
)
KNOWS: Final = phrases(
    "knows | will know | should know | would know | will tell you | can tell you | decides | has it | "
    "weiss es | weiß es | has the answer | will decide | knows best | might know | ll know | has the chart | "
    "has the charts | has that | has them"
)
RECORDS: Final = folded_phrases(
    "record | recording | records | recordings | recorded | original | album | cd | disc | disk | record key | "
    "studio version | original key | original recording | demo | orig | single | aufnahme | disque | version | "
    "rec | recs | platte | platten | aufnahmen | disques | enregistrements | grabaciones | registrazioni | "
    "inspelningarna | opnamen | enregistrement | disco | grabacion | registrazione | originale | incisione | plaat | "
    "opname | opnames | origineel | skivan | skiva | inspelningen | inspelning | originalet | pladen | plade | "
    "platen | plata | optagelsen | indspilningen | innspillingen | opptaket | gravacao | nahravce | nahravka | "
    "desce | plycie | płycie | nagraniu | levylla | levy | lenregistrement | loriginal | loriginale | lalbum | "
    "delloriginale | nelloriginale | sulloriginale | dellalbum | schallplatte | originalaufnahme | "
    "disco originale | plattan | cd'tje | oryginale | albu | levyn | äänitteellä | lemezen | felvételen | ploči | "
    "snimci | albumu | plošči | posnetku | disc | gravació | originalen | originaal | vinilo | vinile | vinyl"
)
AS: Final = folded_phrases(
    "as | as on | as on the | as the | as in the | like | like the | like on the | same as | same as the | "
    "same as on the | same key as the | as per | as per the | per | per the | wie | wie auf der | wie die | "
    "from the | off the | just like the | exactly like the | following the | comme le | comme sur le | "
    "same as in the | as it is on the | the same as the | in the same key as the | "
    "in the same key as | wie in der | wie im | wie beim | comme | comme dans | comme sur | pareil que le | "
    "pareil que sur le | como el | como la | como en el | como en la | igual que el | igual que la | "
    "igual que en el | igual que en la | como o | como a | como no | como na | igual ao | igual a | come il | "
    "come la | come | come sul | come nel | come nella | come da | zoals de | zoals op de | zoals het | zoals | "
    "als op de | net als op de | som | som pa | som i | ligesom pa | lige som pa | som pa den | jako na | jako | "
    "jak na | jak w | kuten | niin kuin | kuin | like it is on the | like it is on | as it is on | "
    "same as it is on the | same key as on the | identical to the | wie auf | wie auf dem | genau wie auf der | "
    "come in | precis som på | zoals op | zelfde als op de | tak jak na | stejně jako na | mint a | "
    "ugyanúgy mint a | kao na | isto kao na | kot na | enako kot na | com al | com a la | com no | comme dans le | "
    "comme sur la | comme l | comme à l | comme pour le | identique au"
)
RECORDED: Final = folded_phrases(
    "original key | orig key | record key | recorded key | album key | original | orig | as recorded | "
    "originals | key of the record | the original key | the record key | record keys | original keys | orig keys | "
    "album keys | recorded keys | the record keys | the original keys | originaltonarten | tonalités d'origine | "
    "tonalités originales | tonos originales | tonalità originali | tons originais | originele toonsoorten | "
    "originaltonarterna | originale tonearter | "
    "as on the sheet | as on the sheets | as on the chart | as on the charts | as per the sheet | as per the chart | "
    "as printed | as typed | as on paper | as written | as in the list | as on the list | as listed | as is | "
    "original tonart | originaltonart | tonalité d'origine | tonalité originale | tonalità originale | "
    "tono original | tom original | originele toonsoort | originaltonarten | record same key | record key please"
)
LAST_TIME: Final = phrases(
    "as it was last year | as last year | like last year | same as last year | as it was last time | as it was | "
    "as per last gig | as per last time | as at the last gig | as the last gig | like the last gig | "
    "as last time | same as last time | like last time | as before | same as before | as always | as usual | "
    "same as usual | same | no change | unchanged | usual | the usual | same wie immer | "
    "comme d'habitude"
)
# The same at the end of a clause: "3 stays"; "3 stays in D" goes on.
STAYS: Final = folded_phrases(
    "stays | stay | stays put | stay put | stays as it is | stays as is | stay as they are | stays the same | "
    "stay the same | bleibt | bleiben | bleibt wie es ist | reste | restent | queda igual | se queda igual | rimane | "
    "rimane così | resta così | fica igual | blijft | blijft zo | ligger kvar | forbliver | zostaje"
)
# What the message or the show says already is right: "2 G, as you have it".
AS_SHOWN: Final = folded_phrases(
    "confirmed | bestätigt | confirmé | confirmée | confirmado | confermato | bevestigd | bekräftat | bekreftet | "
    "as in your list | as on your list | as per your list | as your list | as in the list | as on the list | "
    "as per list | as per the list | as listed | as you listed | as in your message | as in your mail | "
    "as in your email | as on your sheet | as you sent it | as you sent | "
    "as given | as indicated | wie angegeben | wie da steht | wie es da steht | zoals er staat | "
    "zoals het er staat | "
    "zoals aangegeven | comme indiqué | comme c'est écrit | como indicado | come indicato | som angivet | "
    "som det står | "
    "like you've got it | like you've got | same as you've got | as you've got | as you got | as you got it | "
    "like you got | like you got it | same as you have | "
    "same as you have it | same as you got | same as yours | as planned | wie geplant | "
    "comme prévu | como previsto | come previsto | zoals gepland | som planerat | som planlagt | jak planowano | "
    "as you have it | as you have it there | as you have | as you already have | as you already have it | "
    "as you've got it | as you say | as you said | as you wrote | as you write | as you noted | as noted | "
    "as you put | as on yours | like you say | like you said | like you have it | like you wrote | "
    "you have it right | you have that right | you got it right | you've got it right | thats right | "
    "thats correct | still correct | is correct | correct as is | as it stands | as stated | "
    "like always | like before | no changes there | no change there | wie du schon hast | wie du es hast | "
    "wie du hast | wie du sagst | wie du schreibst | wie du geschrieben hast | wie du notiert hast | wie bei dir | "
    "wie bei dir steht | wie bei dir notiert | wie notiert | wie gehabt | wie sonst | wie sonst auch | wie bisher | "
    "wie früher | wie ihr habt | wie ihr schon habt | wie sie schon haben | wie sie haben | wie auf deiner liste | "
    "steht richtig | steht schon richtig | hast du richtig | das stimmt | stimmt so | stimmt | passt so | passt | "
    "bleibt so | bleibt dabei | korrekt | unverändert | comme tu as noté | comme tu l'as noté | comme tu as | "
    "comme tu l'as | comme tu dis | comme tu as écrit | comme vous avez noté | comme vous l'avez noté | "
    "comme vous avez | comme vous dites | comme noté | comme sur ta liste | comme sur votre liste | comme avant | "
    "comme toujours | c'est bon | c'est bien ça | c'est juste | c'est correct | sans changement | inchangé | "
    "inchangée | tu l'as bien | como tienes | como ya tienes | como lo tienes | como la tienes | como dices | "
    "como pones | como has puesto | como anotaste | como has anotado | como pone ahí | como está | como estaba | "
    "como siempre | como antes | está bien | es correcto | correcto | correcta | sin cambios | así es | "
    "come hai scritto | come hai già | come hai tu | come ce l'hai | come dici tu | come dici | come hai segnato | "
    "come segnato | come da lista | come sempre | come prima | come al solito | giusto | giusta | esatto | esatta | "
    "corretto | va bene così | senza cambiamenti | como tens | como já tens | como tem | como já tem | "
    "como você tem | como disseste | como escreveste | como sempre | como está aí | tá certo | está certo | certo | "
    "correto | sem mudanças | som du har | som du redan har | som du har det | som du skrev | som du skrivit | "
    "som du har skrivit | som du har noterat | som du sa | som vanligt | som alltid | som förut | det stämmer | "
    "stämmer | stämmer bra | oförändrat | oförändrad | som du allerede har | som du har skrevet | "
    "som du har noteret | som du skriver | som du siger | som altid | som før | det passer | passer | stemmer | "
    "det stemmer | uændret | uendret | som vanlig | zoals je hebt | zoals je al hebt | zoals je het hebt | "
    "zoals je al had | zoals je had | zoals je zegt | zoals je schreef | zoals je hebt genoteerd | "
    "zoals genoteerd | zoals bij jou staat | zoals altijd | zoals gewoonlijk | zoals eerst | klopt | dat klopt | "
    "klopt zo | ongewijzigd | blijft zo | jak masz | tak jak masz | jak już masz | jak napisałeś | jak napisałaś | "
    "jak piszesz | jak zapisałeś | jak u ciebie | jak zawsze | jak zwykle | jak było | bez zmian | zgadza się | "
    "dobrze masz | jak máš | jak to máš | jak už máš | jak píšeš | jako vždy | jako vždycky | beze změny | "
    "souhlasí | ako máš | ako vždy | bez zmeny | súhlasí | ahogy írtad | ahogy nálad van | ahogy van | "
    "mint mindig | marad | változatlan | stimmel | niin kuin sulla on | kuten sulla on | kuten kirjoitit | "
    "kuten aina | niin kuin aina | ennallaan | pitää paikkansa | kako imaš | kao što imaš | kao uvijek | "
    "kao i uvijek | bez promjene | točno | kot imaš | kot vedno | brez sprememb | com tens | com ja tens | "
    "com sempre | sense canvis"
)
RESTS: Final = phrases(
    "the rest | all the rest | rest | the others | all the others | all others | others | everything else | "
    "all other songs | the remaining ones | the other ones | everything | all of them | "
    "them all | all songs | "
    "every song | der rest | alle anderen | le reste | the rest of them | the remainder | everything else is | "
    "all the other songs | the other songs | all the songs | "
    "the lot | the whole lot | the others you asked about | the rest you asked about | "
    "all the ones you asked about | "
    "everything else you asked | everything else you asked about | everything else you asked for | "
    "whatever is left | whatevers left | what is left | whatever remains | all the ones left | "
    "whats left | the ones left | all else | everyone else | all remaining | all the remaining ones | "
    "resten | alla andra | alla de andra | de ovriga | ovriga | de andra | de rest | de andere | alle andere | "
    "alle anderen nummers | die anderen | alle ubrigen | die ubrigen | el resto | los demas | las demas | "
    "todas las demas | todos los demas | il resto | gli altri | tutti gli altri | tutto il resto | tutte le altre | "
    "le altre | reszta | pozostale | wszystkie pozostale | tous les autres | toutes les autres | les autres | "
    "tout le reste | o resto | as outras | os outros | alle de andre | de andre | "
    "anything | any of them | any of these | any of those | any of the songs | "
    "every other one | every other | all the other ones | the remaining songs | every other song | every one | all "
    "others you asked about"
)
NOTS: Final = set_of(
    "not dont doesnt isnt arent wont never nicht kein keine pas unless without wasnt didnt cant cannot no if avoid"
)
SAME_AGAIN: Final = phrases(
    "sos | isnt either | arent either | neither is | neither are | nor is | nor are | so is | so are | so does | so "
    "do | ditto | likewise | same for | same goes for | same with | as does | as do | the same for | same key for | "
    "same for both | idem"
)
FILLED: Final = phrases(
    "this time | this time round | this time around | "
    "as for | as to | as regards | with regard to | "
    "after all | you asked about | you asked for | on your list | on the list | from the list | "
    "of the list | "
    "if that helps | if it helps | if thats any help | if thats any use | "
    "for sure | of course | as i said | as you know | as discussed | "
    "by the way | btw | if you like | if thats ok | if you can | thank you | let me see | lets see now | "
    "these days | la facciamo | lo facciamo | lo suoniamo | la suoniamo | la tocamos | la hacemos | on la fait | on "
    "la joue | "
    "a fazemos | a tocamos | spielen wir | machen wir | vi spelar den | vi kör den | vi kor den | spelen we | doen "
    "we | "
    "believe it or not | not whats on the record | not what is on the record | not what's on the record | "
    "not what's on the list | not whats on the list | not what you have | not what you wrote | not what it says | "
    "not as on the record | not the record key | not the original key | not as written | not as listed | "
    "not what it says on the list | not what's on your list | same as ever | im afraid | i am afraid | i fear | "
    "kindly note | as it were | now and then | "
    "key change | key change to | from "
    "the set | out of the set | out of the list | "
    "everything from | all from | "
    "all the songs from | songs from | as it happens | thats it | "
    "thats all | i can tell you | we do it | we play it | "
    "final answer | that one | that ones | that one is | this ones | these ones | those ones | we do that | "
    "we do it | "
    "we do that one | we do this one | we play that | we play this | id go | id go for | id go with | lets go | "
    "lets say | "
    "lets go with | lets go for | settle on | lets settle on | settled on | we settled on | ended up in | "
    "we ended up in | well do it | well do that | well do | go with | go for | that will be | "
    "thatll be | "
    "thats in | it goes in | goes in | this week | this time | in the folder | in the shared folder | "
    "in the dropbox | "
    "for sunday | for saturday | for friday | for tonight | for this one | "
    "if that works | on its own | on their own | without a break | the same key | you know | "
    "in order | in that order | in this order | respectively | you are | to begin with | i use | we use | "
    " the song | the tune | the one called | "
    "no gap | with no gap | without a gap | no break | with no break | "
    "the nicht | the morra | 100 % | no problem | no changes | no key changes | throughout | whole of | the whole of"
)
QUESTIONS: Final = {
    "key": "key keys tonart tonalite tonality",
    "starts_with": "start starts starter starters intro intros beginning begins counts",
    "ending": "end ends ending endings finish finishes schluss fin",
    "chart": "chart charts sheet",
    "recording": "recording recordings version versions",
    "tempo": "tempo speed bpm",
}
