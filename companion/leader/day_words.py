"""Months, days of the week and days with a name of their own, in the languages of leaders."""

from typing import Final

from companion.show.titles import folded

# Months of languages in which lists of songs are rarely written: Hungarian, Welsh, Norwegian, Swedish, Catalan, Slovak,
# Croatian (without October, which is November in Polish), Slovene, Finnish.
_MONTHS_MORE: Final = (
    "január ionawr gener januára siječnja januarja januari tammikuuta tammikuu",
    "február chwefror febrer februára veljače februarja februari helmikuuta helmikuu",
    "március mawrth març ožujka marec maaliskuuta maaliskuu",
    "április ebrill apríla travnja aprila huhtikuuta huhtikuu",
    "május maig mája svibnja toukokuuta toukokuu",
    "június mehefin juny júna lipnja junija kesäkuuta kesäkuu",
    "július gorffennaf juliol júla srpnja julija heinäkuuta heinäkuu",
    "augusztus awst agost augusta kolovoza avgusta augusti elokuuta elokuu",
    "szeptember medi rujna septembra syyskuuta syyskuu",
    "október hydref októbra oktobra lokakuuta lokakuu",
    "tachwedd studenoga studenog novembra marraskuuta marraskuu",
    "desember rhagfyr desembre prosinca decembra joulukuuta joulukuu",
)
MORE_MONTHS: Final = {name: number for number, names in enumerate(_MONTHS_MORE, start=1) for name in names.split()}
# In their plain form, and in the form after "on" where that differs.
DAYS_OF_WEEK: Final = (
    (
        "mon monday montag mo lundi lunedì lunes maandag poniedziałek pondělí mandag måndag hétfő hétfőn dilluns "
        "ponedjeljak "
        "ponedeljek pondelok maanantai maanantaina segunda-feira"
    ),
    (
        "tue tues tuesday dienstag di mardi martedì martes dinsdag wtorek úterý tirsdag tisdag kedd kedden dimarts "
        "utorak torek "
        "utorok tiistai tiistaina terça-feira"
    ),
    (
        "wed weds wednesday mittwoch mi mercredi mercoledì miércoles woensdag środa środę středa středu onsdag szerda "
        "szerdán "
        "dimecres srijeda srijedu sreda sredo streda stredu keskiviikko keskiviikkona quarta-feira"
    ),
    (
        "thu thur thurs thursday donnerstag jeudi giovedì jueves donderdag czwartek čtvrtek torsdag csütörtök "
        "csütörtökön dijous "
        "četvrtak četrtek štvrtok torstai torstaina quinta-feira"
    ),
    (
        "fri friday freitag fr vendredi venerdì viernes vrijdag piątek pátek fredag péntek pénteken divendres petak "
        "petek piatok "
        "perjantai perjantaina sexta-feira"
    ),
    (
        "sat saturday samstag sonnabend samedi sábado sabato zaterdag sobota sobotę sobotu soboto lørdag lördag "
        "szombat szombaton dissabte subota subotu lauantai lauantaina sadwrn"
    ),
    (
        "sun sunday sonntag dimanche domingo domenica zondag niedziela niedzielę neděle neděli søndag söndag vasárnap "
        "diumenge "
        "nedjelja nedjelju nedelja nedeljo nedeľa nedeľu sunnuntai sunnuntaina"
    ),
)
# Those that can be no other word, as "mo" and "sat" can.
PLAIN_WEEKDAYS: Final = frozenset(folded(one) for names in DAYS_OF_WEEK for one in names.split() if len(one) >= 5)
NAMED_DAYS: Final = {
    name: day
    for day, names in {
        (12, 31): (
            "new year's eve|new years eve|nye|silvester|silvesterabend|hogmanay|nochevieja|saint-sylvestre|"
            "oudejaarsavond|"
            "nyårsafton|nytårsaften|nyttårsaften|szilveszter|sylwestra|silvestra|uudenvuodenaatto|cap d'any"
        ),
        (1, 1): "new year's day|new years day|neujahr|nieuwjaarsdag|capodanno|año nuevo",
        (12, 24): "christmas eve|heiligabend|nochebuena|kerstavond|juleaften|julaften|julafton|wigilia|jouluaatto",
        (12, 25): "christmas day",
        (12, 26): (
            "boxing day|boxing night|st stephen's day|st stephen's night|stephen's night|st stephens day|"
            "st stephens night|stephanstag|tweede kerstdag"
        ),
        (1, 25): "burns night",
        (2, 14): "valentine's day|valentine's night|valentines day|valentines night",
        (3, 1): "st david's day|st davids day",
        (3, 17): "st patrick's day|st patrick's night|st patricks day|st patricks night|paddy's day|paddy's night",
        (10, 31): "halloween|hallowe'en",
        (11, 5): "bonfire night",
        (11, 30): "st andrew's night|st andrew's day|st andrews night",
    }.items()
    for name in names.split("|")
}
