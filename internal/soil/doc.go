// Package soil knows what the weather does to bare and cropped ground: how
// much water it draws (reference evapotranspiration and the FAO-56 balances),
// how warm it is where a seed lies, and what drought costs a crop (FAO-33).
// It knows no crop by name, no bed and no date beyond the day of the year.
//
// Everything is a pure function of numbers handed in. Formulas carry the
// equation number of FAO Irrigation and Drainage Paper 56 (Allen, Pereira,
// Raes & Smith 1998); each equation is one function. A missing number is NaN.
//
// Read eto.go first (which formula a record allows), then vapour.go and
// radiation.go for its parts; temperature.go for the seedbed; bucket.go, then
// dual.go, for the water balance; texture.go for what a ground holds.
package soil
