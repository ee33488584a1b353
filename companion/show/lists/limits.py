"""How much of a list is read: beyond these a file is refused with a clear word, since it is no set list."""

MOST_BYTES = 8 * 1024 * 1024  # a PDF of one page with a logo has 2 MB
MOST_UNPACKED_BYTES = 64 * 1024 * 1024  # of a workbook, which is a zip; a list of 100 songs has 0.1 MB
MOST_PARTS = 500  # files inside a workbook
MOST_PAGES = 40  # of a PDF; 70 songs fill 5
MOST_SHEETS = 20
MOST_ROWS = 10_000
MOST_COLUMNS = 60
MOST_CELLS = 1_000_000  # of one sheet, empty ones too: a row that is formatted to its far end has 16,384
LONGEST_CELL = 1_000  # characters; what is longer is cut, and told
MOST_SONGS = 1_000  # 50 to 70 is a night; a whole repertoire is a songbook
PDF_SECONDS = 30  # a page takes a hundredth of a second
