"""By which suffixes of their names picture files are found in a folder: one list, for every command."""

# Raw files of cameras hold a thumbnail that would be taken for the picture: they are refused by name.
RAW_SUFFIXES = frozenset(".3fr .arw .cr2 .cr3 .dng .erf .iiq .nef .nrw .orf .pef .raf .raw .rw2 .rwl .srw .x3f".split())
SUFFIXES = frozenset(".jpg .jpeg .jpe .jfif .mpo .png .webp .tif .tiff .bmp .dib .gif .heic .heif .hif .avif".split())
