"""The names of a list's columns in the languages of Europe, as band leaders write them."""

from typing import Final

# Dictionaries of each language and common practice; no single source.
PHRASES: Final[dict[str, str]] = {  # for each kind of column, its names between bars
    "NUMBER": "number|no|nr|nº|n°|nro|pořadí|nummer|num|pos|position|order|track|lfd|lfd nr|reihenfolge|song no|"
    "song number|song nr|n|lp|číslo|numero|número|numéro|volgorde|rækkefølge|ordning|nummer i|sıra|№|ném|"
    "sorszám|pozycja|kolejność|pořadové číslo",
    "SET": "set|parte|partie|ronda|runde|deel|del|setti|osa|część|rész|dio|část|tanda|pase|manche|"
    "round|block|set no|set number|set nr|teil|set name|which set|sett|sæt|serie|série|bloque|blok|"
    "part of show|half|section|part of the evening|part of evening|course|slot|moment|abschnitt|blokk|moments|"
    "sezione|sección|secção|avdeling|avdelning|afdeling|onderdeel|programmdel|programmpunkt",
    "TITLE": "title|canción|cancion|canzone|brano|música|musica|tema|nummertitel|låt|sang|sangtitel|piosenka|"
    "utwór|utwor|tytuł|píseň|skladba|skladby|biisi|titre du morceau|morceau|song|songs|song title|"
    "song name|name|tune|track name|titel|lied|stück|stueck|piece|songtitel|song titel|titre|chanson|"
    "number title|titolo|title of song|track title|hymn|hymns|worship song|pieces|item title|number name|"
    "pieza|obra|canciones|canzoni|brani|temas|título|titulo|titre de la chanson|titres|morceaux|chansons|"
    "lieder|liedtitel|musikstück|werk|cantique|liedje|nummers|titels|låtar|låttitel|"
    "melodi|sálmur|kappale|kappaleet|utwory|piosenki|písnička|písničky|pieseň|cím|dal|"
    "dal címe|naslov|pjesma|pesem|skladbe|cântec|titlu|piesă|lugu|dziesma|daina|şarkı|eser|parça|"
    "τραγούδι|τίτλος|песня|название|пісня|назва",
    "ARTIST": "artist|artysta|wykonawca|interprète|intérprete|interprete|band|by|original artist|as performed by|"
    "performed by|interpret|künstler|composer|originally by|original act|writer|artist band|band artist|"
    "künstler band|artiste|artista|original by|original|interpret original|artiest|uitvoerder|kunstner|"
    "esittäjä|esiintyjä|előadó|izvođač|izvajalec|esitaja|izpildītājs|atlikėjas|sanatçı|исполнитель|"
    "виконавець|καλλιτέχνης|compositeur|compositor|compositore|komponist|säveltäjä|made famous by|"
    "in the style of|style of",
    "KEY": "key|keys|toon|ours|our|now|new key|sounding|sounding key|sounds in|tono|tonalidad|tonalità|tonalita|ton|"
    "tom|tonación|toneart|toonsoort|tonacja|tónina|tonina|tonalidade|sävellaji|tonart|song key|our key|"
    "live key|key live|concert key|gig key|band key|performance key|tonality|key we play|tonart band|"
    "tonalité|key sig|key signature|played in|key concert|tonarten|our keys|tonart live|toonaard|"
    "toonhoogte|hangnem|tonalitet|tonalitate|helistik|tonalitāte|tonacija|tónus|тональность|тональність|"
    "τονικότητα|clé|clef|llave|chiave|sleutel|nyckel|sävel|in key|playing key|keyed in|what key|"
    "which key|gespielt in|concert",
    "RECORD_KEY": "original key|was|old key|recorded in|record|recording in|tono original|tonalité originale|orig|"
    "orig key|record key|recorded key|album key|key original|key orig|key on record|key record|"
    "original tonart|originaltonart|orig tonart|recording key|studio key|key of recording",
    "LENGTH": "length|duración|duracion|durata|duração|varighed|varaktighet|längd|długość|délka|kesto|tijd|duur|"
    "length of song|duration|time|dur|len|mins|min|minutes|dauer|länge|laenge|zeit|spieldauer|runtime|"
    "run time|running time|song length|approx length|mm ss|m ss|durée|secs|seconds|length s|"
    "length seconds|duration s|time approx|approx time|czas|čas|dĺžka|hossz|időtartam|trajanje|süre|"
    "kestus|ilgums|trukmė|длительность|время|тривалість|διάρκεια|lengte|speelduur|tid|længde|lengde|aika|"
    "temps|minutage|minuten|minuti|minutos|min sec|mins secs",
    "TEMPO": "tempo|bpm|speed|tempo bpm|click|beats per minute|metronome|click bpm|bpm tempo|snelheid|hastighed|"
    "rychlost|puls",
    "METER": "meter|metre|time sig|time signature|sig|takt|taktart|ts|signature|beat",
    "STARTS": "starts|who starts|start|started by|starts with|begins|beginnt|intro by|count in|count in by|"
    "counted in by|count off|wer beginnt",
    "ENDING": "ending|end|ends|how it ends|ende|schluss",
    "CHART": "chart|charts|sheet|sheet music|music|dots|noten|lead sheet|chart y n|have chart|noten da",
    "RECORDING": "recording|link|url|mp3|audio|video|listen|reference|recording link|file|links|audio link",
    "NOTES": "notes|notas|notes de|remarques|observaciones|note varie|uwagi|poznámky|noter|anteckningar|"
    "opmerkingen|note|comment|comments|remarks|remark|info|details|bemerkung|bemerkungen|anmerkung|"
    "anmerkungen|hinweis|hinweise|notizen|cues|cue|keys notes|description|misc|memo|arrangement|"
    "keys part|keys parts|kommentar|notes cues|comments notes|feature|features|solo|solos|intro|"
    "intro outro|notes for keys|form|notater|merknader|merknad|noot|noten bij|opmerking|aantekeningen|"
    "bemærkninger|bemærkning|kommentti|huom|huomautukset|huomautuksia|megjegyzés|megjegyzések|napomena|"
    "napomene|opomba|opombe|observații|observação|observações|obs|remarque|observación|appunti|"
    "annotazioni|commenti|commentaires|comentarios|märkused|piezīmes|pastabos|notlar|примечания|заметки|"
    "примітки|σημειώσεις|tips|what i play|my part|bits to watch|watch out",
    "PLAYED": "play|played|playing|in|on|in out|on off|status|include|included|y n|yes no|tonight|spielen|"
    "gespielt|jouer|tonight s list|playing tonight|play tonight|on list|in set|jouée|suona|se toca",
    "OTHER": "singer|vocal|vocals|lead vocal|vox|lead|sung by|sound|sounds|patch|patches|genre|style|year|decade|"
    "mood|energy|capo|tuning|guitar|bass|drums|horns|sänger|sängerin|gesang|stil|jahr|genre style|level|"
    "difficulty|rating|feel|segue|lighting|lights|mc|dance|type|item|pad|pad no|pad number|book no|folder|"
    "chart no|part|who|role|element|"
    "teil des gottesdienstes|ablauf|moment|when|wann|anlass|occasion|singers|voice|chant|chant par|zpěv|zang|"
    "sang af|solist|leads|count",
}
