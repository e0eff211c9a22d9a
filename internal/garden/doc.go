// Package garden is the document a person owns: site, ground, household,
// table, history. It knows how that document is written as text and what
// makes it sound. It knows no database and no science: which crops and dishes
// there are it is told by its caller, and what a crop does with the ground is
// package ground's business.
//
// Read garden.go first (the types), then write.go and parse.go (the text
// form, TOML), then check.go. data/demo.toml is an invented garden that
// doubles as the example of the text form.
package garden
