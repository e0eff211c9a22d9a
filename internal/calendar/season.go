package calendar

import "time"

// A season year is the twelve months in which a garden's warm season lies
// whole: January to December in the north, July to June in the south.

// SeasonStart is the first day of the season year numbered year: 1 January of
// that year north of the equator, 1 July of that year south of it.
func SeasonStart(year int, south bool) Date {
	if south {
		return On(year, time.July, 1)
	}
	return On(year, time.January, 1)
}

// SeasonYear is the number of the season year in which d lies.
func SeasonYear(d Date, south bool) int {
	if south && d.Month() < time.July {
		return d.Year() - 1
	}
	return d.Year()
}
