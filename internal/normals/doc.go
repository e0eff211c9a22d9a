// Package normals holds a place's usual year as monthly figures, fits them to
// a record, and generates daily years from them that are like measured ones in
// mean, spread, persistence, rain and frost (after Richardson, 1981).
//
// It knows nothing of maps: package climatology says which figures hold where.
// Fitting and writing make and check such figures; the program only generates.
//
// Read year.go first, then generate.go and fit.go.
package normals
