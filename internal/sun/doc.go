// Package sun knows where the sun stands over a garden, how long the day is,
// how much radiation comes in above the air, and which spots a wall leaves in
// the shade. It knows nothing of cloud, trees in leaf or reflected light.
//
// Two sets of formulas live side by side because they answer different
// questions. radiation.go holds the daily formulas of FAO-56, which the water
// and growth models are built on: fast, and up to 55° within half an hour of
// the almanac, most of which is refraction, left out on purpose. position.go
// holds the NOAA/Meeus solar position, true to 0.01°, for sunrise and shade.
//
// Read radiation.go first, then position.go, rise.go, shadow.go and direct.go.
package sun
