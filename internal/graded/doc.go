// Package graded reads the small tables in which a package keeps the figures it
// goes by, each beside its range, its source and the grade of trust in it. It
// does not know what a figure means; the package that keeps the table does.
//
// The tables are part of the program, so a fault in one is the programmer's.
//
// Read figure.go, then row.go for tables of other columns.
package graded
