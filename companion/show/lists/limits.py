"""How much of a list is read: beyond these a file is refused with a clear word, since it is no set list."""

MAX_TEXT_BYTES = 256 * 1024  # of a text; a thousand songs with a note each have 150 KB
MAX_LINE = 20_000  # characters; longer lines are no list
MOST_BYTES = 8 * 1024 * 1024  # a PDF of one page with a logo has 2 MB
MAX_ZIP_BYTES = 64 * 1024 * 1024  # that a workbook says it unpacks to, pictures too
MAX_PART_BYTES = 24 * 1024 * 1024  # of the parts of a workbook that are read; a list of 100 songs has 0.1 MB
MAX_TOKEN_BYTES = 256 * 1024  # between two marks of XML; a cell has at most 32,767 characters
MAX_ELEMENTS = 300_000  # cells and the like, empty ones too: a row that is formatted to its far end has 16,384
MAX_DEPTH = 32  # of a workbook's XML, which is ten levels deep
MOST_PARTS = 500  # files inside a workbook
MOST_PAGES = 40  # of a PDF; 70 songs fill 5
MAX_LETTERS = 150_000  # of a PDF; a list of 70 songs has 5,000
MOST_SHEETS = 20
MOST_ROWS = 10_000
MOST_COLUMNS = 60
LONGEST_SHOW_NOTES = 4_000  # characters of the lines that were not understood
LONGEST_CELL = 1_000  # characters; what is longer is cut, and told
MOST_SONGS = 1_000  # 50 to 70 is a night; a whole repertoire is a songbook
