// Package season grows the garden as it really stands: from the days on which
// things were really done, through the weather so far, the forecast where there
// is one and the rest of every past year. Out of that come what each planting
// will do, the jobs, the water and the alarms of one morning.
//
// It is a pure function of what is handed in (Look): no clock, no file, no
// chance. It does not plan; package cropping does.
//
// Read input.go for what goes in, state.go for what comes out, then splice.go
// (how weather so far and past years are joined), deedsread.go (what the diary
// says of each planting) and regrow.go; established.go has the perennials that
// stand, learn.go what the diary teaches. Jobs stand in job*.go, water in
// water*.go, alarms in alarm*.go. Figures of crops, covers, soil and pots are
// the catalogue's; those of the season's own work stand in data/*.csv, each with
// source and grade.
package season
