// Package sun knows how long the day is, how much radiation comes in above the
// air, and how long a shadow is at noon. It knows nothing of cloud, trees in
// leaf or reflected light.
//
// Its daily formulas are those of FAO-56, on which the water and growth models
// are built: fast, and up to 55° within half an hour of the almanac, most of
// which is refraction, left out on purpose. The tests hold them to the almanac
// (almanac_test.go).
//
// Read radiation.go first, then shadow.go.
package sun
