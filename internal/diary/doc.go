// Package diary holds what a gardener writes down, and reads it from one line
// as they would say it: "picked 800 g courgettes bed 2". It knows the words,
// units and dates of such a line and what cannot be true of an entry. It keeps
// nothing, knows no clock, and does not know what an entry means for the crop:
// package season does.
//
// Read entry.go first, then parse.go (the order in which a line is understood),
// places.go and names.go (how places and crops are found), check.go, and
// csv.go, the diary as a table. The measures behind "a basin" or "a can" stand
// in data/measures.csv.
package diary
