// Package readings reads and writes records of weather in the forms in which
// services and people keep them, and checks every day of them.
//
// It never guesses a unit: a file that does not say whether it is in °C or °F
// is refused with the header that would make it readable. It opens nothing
// but the file it is told to.
//
// Read read.go first, then format.go (which forms there are), builder.go (the
// books that a reader keeps) and one of the forms, such as dly.go.
package readings
