"""Words for what happens on an evening or at a service without the band: Speeches, cake, Predigt, rinfresco."""

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
accueil empfang sektempfang ontvangst mottagning modtagelse accoglienza recepción receção
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
SURE, MAY_BE, BESIDE, PAUSES = (
    frozenset(words.casefold().split()) for words in (_SURE_WORDS, _MAY_BE_WORDS, _WORDS_BESIDE, _PAUSE_WORDS)
)
