// Package figure draws Haulm's pictures as SVG text: ground through time, the
// table's year, odds strips, frost odds, the bed on a day, portions by month,
// the price of ground. Each figure is a plain struct of numbers, names and
// dates; its SVG method is a pure function of those. The package knows nothing
// of crops, weather or plans, reads no clock and writes no file.
//
// Every figure carries a title, a sentence on how to read it, a sentence on
// what it shows, and the same data as a table (see Figure). Colours are named
// tokens: written into the SVG as plain attributes, so that a picture stands
// alone, and overridden by Stylesheet for light, night and print.
//
// Read figure.go first, then theme.go, then ground.go.
package figure
