// Package climatology makes a first estimate of the weather of any place on
// land: monthly figures between the points of a world climatology of 1961 to
// 1990, brought to the height of the place and to 1981–2010, and from them
// years of daily weather.
//
// What it knows of the world is data/world.bin, fitted coefficients of the
// monthly figures at some 16,700 points and the lie of the land on the same
// 10-minute grid (data/README.md says from what and how), and the heights and
// sizes of the gazetteer's settlements: villages show the valley that the grid
// does not, and towns keep nights warm. How much days differ from each other
// comes from regressions on what all that says (data/coefficients.csv), fitted
// where daily records exist, and in the United States from measured freeze
// dates drawn together by half degrees (data/regions.csv).
//
// It knows no frost dates of any station, reads no file but the ones built in,
// and can not see a wall, a pond or a frost hollow: an own thermometer can.
//
// Load unpacks it once; keep the World and hand it on. Read world.go first, then
// place.go (between the points), settlement.go, region.go, normals.go (from
// figures to days) and estimate.go.
package climatology
