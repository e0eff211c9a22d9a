// Package grow grows one planting through one year of weather (a course) and
// through every year on record (a spread). It is pure: weather, catalogue and
// dates come in, stages, pickings and mishaps go out.
//
// Read course.go for the words, climate.go for the weather made ready, then
// stages.go. plain.go is the slow day-by-day twin that tests hold the fast
// path against.
package grow
