// Package unit turns the metric quantities used inside into what a person
// reads, metric or imperial, and back. It knows no weather and no crops.
//
// Read unit.go first, then show.go; span.go writes what is only known within bounds.
package unit
