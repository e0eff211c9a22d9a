// Package place is the gazetteer: it finds a place of the world by its name or
// its coordinates and tells where it lies, how high, and in which time zone.
//
// It knows some 199,000 towns and villages, each with the spellings that a
// person may type for it, from GeoNames figures that stand packed inside the
// program (data/places.bin, 2.5 MiB; internal/packed describes the form). It
// does not know streets, postcodes, gardens, or the weather; its heights are of
// the village, not of the bed: on a slope they can be off by the height of the
// slope. It reads no file and no network.
//
// Read place.go first, then find.go. To make data/places.bin again see
// internal/generate. The data may be shown only with Attribution beside it.
package place
