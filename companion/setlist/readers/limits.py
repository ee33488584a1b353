"""Limits on a list: a file beyond them is refused, since no set list is so large."""

MAX_TEXT_BYTES = 256 * 1024  # a text; a thousand songs with a note each need 150 KB
MAX_LINE = 20_000  # characters; no list has longer lines
MAX_BYTES = 8 * 1024 * 1024  # any file; a one-page PDF with a logo has 2 MB
MAX_ZIP_BYTES = 64 * 1024 * 1024  # a workbook's declared unpacked size, with pictures
MAX_PART_BYTES = 24 * 1024 * 1024  # the parts of a workbook that are read; a list of 100 songs has 0.1 MB
MAX_TOKEN_BYTES = 256 * 1024  # one XML token; a cell has at most 32,767 characters
MAX_ELEMENTS = 300_000  # XML elements, empty cells included: a row formatted to its far end has 16,384
MAX_DEPTH = 32  # nesting of a workbook's XML, which is normally ten levels deep
MAX_DOCUMENT_DEPTH = 100  # nesting of a document's XML: a table in a text box in a table has forty levels
MAX_HTML_BYTES = 2 * 1024 * 1024  # a page or a mail with its styles; a list has 20 KB
MAX_MAIL_PARTS = 100  # parts of a mail, attachments and what is inside them included
MAX_PICTURE_BYTES = 32 * 1024 * 1024  # a picture or a scanned PDF; a telephone's photograph has 3 to 12 MB
MAX_PIXELS = 64_000_000  # a telephone's photograph has 12 to 50 million
MAX_PICTURE_PAGES = 8  # a scanned PDF; each takes seconds
MAX_WORDS = 20_000  # read from pictures; a page has 500
MAX_PARTS = 500  # files inside a workbook
MAX_PAGES = 40  # a PDF; 70 songs fill 5
MAX_LETTERS = 150_000  # a PDF; a list of 70 songs has 5,000
FEWEST_LETTERS = 60  # of a PDF with pictures; fewer are what a scanner prints beside its picture
MAX_SHEETS = 20
MAX_ROWS = 10_000
MAX_COLUMNS = 60
LONGEST_SHOW_NOTES = 4_000  # characters of the lines that were not understood
LONGEST_CELL = 1_000  # characters; longer cells are cut and reported
MAX_SONGS = 1_000  # 50 to 70 is a night; a whole repertoire is a songbook
