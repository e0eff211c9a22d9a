// Package packed is the file form of the gazetteer: a table of places by
// columns, packed small enough to stand inside the program.
//
// It knows how a Table becomes bytes (Encode) and comes back (Decode), and
// nothing of searching or of where the figures are from. Read table.go first,
// then this description of the form; encode.go and decode.go follow it.
//
//	magic     8 bytes "haulmgaz"
//	version   1 byte, 1
//	check     4 bytes little-endian, CRC-32 (IEEE) of all that follows
//	places    uvarint, the number of places n
//	texts     uvarint, the number of text sections t
//	sections  head, columns, t texts; each is a uvarint of the unpacked length,
//	          a uvarint of the packed length, and a DEFLATE stream (RFC 1951)
//
// head holds, as uvarints and as strings (a uvarint length and UTF-8 bytes):
//
//	zones     their number, then their IANA names
//	countries their number, then of each: code, name, number of other names, them
//	regions   their number, then of each: country (index), name, short code,
//	          number of places, south and west (zigzag varints, the lowest
//	          latitude and longitude of its places, 0.001°), number of zones
//	          used in it, their indices
//
// Places follow the order of regions, so that a place's region and country cost
// nothing. Within a region they follow a curve through the land (the generator
// chooses it), so that neighbours stand side by side.
//
// columns holds nine planes of n bytes each, one after the other:
//
//	0 1  latitude less the region's south, high then low byte, 0.001°
//	2 3  longitude less the region's west, high then low byte, 0.001°; regions
//	     wider than 65.535° are split by the encoder
//	4 5  ground height less that of the place before, metres, zigzag, high then low
//	6    population on a log scale: 0 unknown, else 1 + round(10 log2 people)
//	7    zone as an index in the region's list
//	8    1 if the height is an estimate: the height models see water there
//
// A text section holds the places of its share (the k-th of t: places k·n/t up
// to (k+1)·n/t), a line each ending in "\n": the name, then each other spelling
// after a "\t". Sections are independent, so they can be unpacked side by side.
package packed
