// Package weather holds daily weather records: reading the formats in which
// services and people keep them, checking every day, mending short gaps, the
// odds of frost that a record tells, and a generated first estimate for a
// place without one.
//
// It knows no crops and no soil, opens nothing but the file it is told to, and
// never guesses a unit: a file that does not say whether it is in °C or °F is
// refused with the header that would make it readable.
//
// Read record.go first, then read.go (formats and checks), fill.go (gaps),
// frost.go (odds) and generate.go (estimates).
package weather
