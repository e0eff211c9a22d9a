// Package forecast reads the weather that a service expects, as days and hours
// of the garden's own time zone. It fetches nothing.
//
// Read forecast.go first.
package forecast
