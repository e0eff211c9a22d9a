// Package grow grows one planting through one year of weather (a course) and
// through every year on record (a spread). It is pure: weather, catalogue and
// dates come in, stages, pickings and mishaps go out.
//
// Read course.go for the words, climate.go for the weather made ready, then
// stages.go, hazards.go and pick.go; gate.go for the length of the day, ground.go
// and thirst.go for water and pots, perennial.go for what stands for years, pace.go
// and learn.go for what the grower's own results teach. Every rule of one day
// stands once, in day.go and thirst.go. plain_test.go is the slow day-by-day twin
// that tests hold the fast path against.
//
// It does not know who waters when (a place is watered as it needs it, or not at
// all), slugs, pests and diseases, nor what stood in the ground before.
package grow
