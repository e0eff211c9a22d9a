package kitchen

import (
	"fmt"
	"math"
	"time"

	"haulm/internal/calendar"
	"haulm/internal/weather"
)

// HungryBonus multiplies the value of a dish's first portions in the week of
// day: more than 1 where little fresh food is to be had. The rule knows the
// season and the latitude only: the bonus of data/hungry.csv (six months
// later in the south), in full from 45 degrees on, none below 25, in
// proportion between. It misjudges cold high ground near the equator.
func HungryBonus(site weather.Site, day calendar.Date) float64 {
	t := tables()
	strength := (math.Abs(site.LatDeg) - t.noneBelow) / (t.above - t.noneBelow)
	strength = max(0, min(1, strength))
	for _, season := range t.hungry {
		if between(northDay(site, day), season.from, season.to) {
			return 1 + strength*(season.bonus-1)
		}
	}
	return 1
}

// HungryBonuses is HungryBonus for so many weeks from monday on.
func HungryBonuses(site weather.Site, monday calendar.Date, weeks int) []float64 {
	bonuses := make([]float64, weeks)
	for w := range bonuses {
		bonuses[w] = HungryBonus(site, monday.Add(7*w))
	}
	return bonuses
}

// northDay is the day as MM-DD, moved by six months in the south.
func northDay(site weather.Site, day calendar.Date) string {
	_, month, d := day.Civil()
	if site.South() {
		month = (month+5)%time.December + 1
	}
	return fmt.Sprintf("%02d-%02d", int(month), d)
}

// between says whether md lies in from..to, both included, also over New Year.
func between(md, from, to string) bool {
	if from <= to {
		return from <= md && md <= to
	}
	return md >= from || md <= to
}
