// Package weather is what weather does: daily and hourly records as values,
// how short gaps are mended, the odds of frost that a record tells, and how a
// garden's own thermometer joins a station's long record.
//
// It knows no crops and no soil, and no file: package readings reads and
// writes records, forecast the days ahead, normals makes years where none were
// measured.
//
// Read record.go first, then fill.go (gaps), frost.go (odds) and join.go.
package weather
