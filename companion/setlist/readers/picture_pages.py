"""The pages of a picture, between the process that prepares them and the one that reads them."""

import msgspec


class PreparedPictures(msgspec.Struct, frozen=True):
    """Each page as a PNG file in shades of grey."""

    pages: tuple[bytes, ...]
