// Package ground is the geometry of growing: a place cut into strips, rows
// and plants laid out on a stretch of it to scale, and which rotation groups
// each strip must do without for how long, and why; and the seeds for so many
// plants, by data/seeds.csv.
//
// It knows nothing of weather, dates within a year or the table, and nothing
// of who shades whom.
//
// Read strip.go first, then layout.go and rotation.go.
package ground
