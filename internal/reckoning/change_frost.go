package reckoning

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/unit"
)

// frostLoss tells of plants that a frost took on their ground. One of spring is
// a matter of the day on which they went out; one of autumn or winter is not.
func (in *Input) frostLoss(s *story) []Change {
	for _, loss := range s.lost {
		if !strings.Contains(strings.ToLower(loss.Cause), "frost") || !s.onGround() || s.on > loss.Day || in.Record == nil {
			continue
		}
		if c, told := in.frostTold(s, loss); told {
			c.Crop, c.weight = s.Crop.Name, expected(s)
			return []Change{c}
		}
	}
	return nil
}

func (in *Input) frostTold(s *story, loss Loss) (Change, bool) {
	year := calendar.SeasonYear(loss.Day, in.south())
	start := calendar.SeasonStart(year, in.south())
	if s.on < start || loss.Day >= in.autumnStart(year) {
		return in.autumnFrost(s, loss, start)
	}
	springs := in.lastFrosts()
	if len(springs) < int(rule("weather.least_years")) {
		return Change{}, false
	}
	latest := -1
	for _, last := range springs {
		latest = max(latest, last)
	}
	if int(loss.Day-start) > latest {
		return unseenFrost(s, loss, start, latest, len(springs)), true
	}
	return in.springFrost(s, loss, springs)
}

// springFrost tells how often a frost comes later than the plants went out, and
// from when it is rare.
func (in *Input) springFrost(s *story, loss Loss, springs map[int]int) (Change, bool) {
	years, safe := len(springs), in.safeFrom(springs)
	after := frostsAfter(springs, int(s.on-in.from()))
	c := Change{Numbers: fmt.Sprintf("Out on %s, lost %s on %s. A night at or below %.0f °C came after %s in %d of %d years on record.",
		short(s.on), loss.What, short(loss.Day), rule("frost.at_c"), short(s.on), after, years)}
	switch {
	case after <= int(rule("frost.risk")*float64(years)):
		c.Do = fmt.Sprintf("Keep the day, and fleece to hand: %s went out when a frost is rare", lower(s.Crop.Name))
		c.Why = "the day was sound and the year was not; moving it would cost time in nine years to save the tenth"
	case safe.Known():
		c.Do = fmt.Sprintf("Set %s out from %s, or cover it on cold nights until then", lower(s.Crop.Name), short(safe))
		c.Why = fmt.Sprintf("from %s on a frost is left in one year of ten at most", short(safe))
	default:
		return c, false
	}
	return c, true
}

// unseenFrost tells of a frost in a spring later than any on record, from which
// no better day can be worked out.
func unseenFrost(s *story, loss Loss, start calendar.Date, latest, years int) Change {
	on := fmt.Sprintf("None of the %d springs on record has a night at or below %.0f °C.", years, rule("frost.at_c"))
	if latest >= 0 {
		on = fmt.Sprintf("The latest spring night at or below %.0f °C of the %d years on record came on %s.", rule("frost.at_c"), years, short(start.Add(latest)))
	}
	return Change{
		Do:      fmt.Sprintf("Keep fleece to hand for %s: no frost on record came as late as %s", lower(s.Crop.Name), short(loss.Day)),
		Numbers: fmt.Sprintf("Out on %s, lost %s on %s. %s", short(s.on), loss.What, short(loss.Day), on),
		Why:     "the year was colder than any on record, or this garden lies colder than its record",
	}
}

// autumnFrost tells of a loss when the days shorten, or over the winter: by
// when a night comes that harms the crop, and what can be done before it.
// start is the first day of the season year of the loss.
func (in *Input) autumnFrost(s *story, loss Loss, start calendar.Date) (Change, bool) {
	winters, stage := s.on < start || in.pickedNextYear(s), "growing"
	if winters {
		stage = "wintering"
	}
	harmC := math.Min(rule("frost.at_c"), s.Crop.ColdAt(stage).DamageC)
	firsts := in.firstFrosts(loss.Day, harmC)
	if len(firsts) < int(rule("weather.least_years")) {
		return Change{}, false
	}
	came := slices.DeleteFunc(slices.Clone(firsts), func(first calendar.Date) bool { return !first.Known() })
	spared := int(rule("frost.risk") * float64(len(firsts)))
	c := Change{Numbers: fmt.Sprintf("Lost %s on %s, %s. A night at or below %s °C, which harms it, came by then in %d of %d years on record.",
		loss.What, short(loss.Day), s.pickedBefore(loss.Day), unit.Number(harmC, 1), len(came), len(firsts))}
	if len(came) <= spared {
		c.Do = fmt.Sprintf("Keep the dates of %s, and fleece to hand: a night that harms it is rare by %s", lower(s.Crop.Name), short(loss.Day))
		c.Why = "the dates were sound and the year was not, or this garden lies colder than its record"
		return c, true
	}
	slices.Sort(came)
	risky := came[spared] // more than one year in ten has had such a night by then
	c.Do = in.beforeFrost(s, stage, risky, winters)
	c.Why = fmt.Sprintf("before %s such a night came in one year of ten at most", short(risky))
	return c, true
}

// pickedNextYear says whether a planting is to be picked only in the season year
// after it came onto its ground.
func (in *Input) pickedNextYear(s *story) bool {
	first := s.FirstPick.P50
	return first.Known() && calendar.SeasonYear(first, in.south()) > calendar.SeasonYear(s.on, in.south())
}

// pickedBefore says what had come of the planting by a day.
func (s *story) pickedBefore(day calendar.Date) string {
	if s.firstPick.Known() && s.firstPick <= day {
		return "first picked on " + short(s.firstPick)
	}
	return "nothing picked by then"
}

// beforeFrost says what can be done before the nights that harm a crop; picking
// it sooner is no way for what is to stand through the winter.
func (in *Input) beforeFrost(s *story, stage string, risky calendar.Date, winters bool) string {
	name := lower(s.Crop.Name)
	ways := []string{fmt.Sprintf("Cover %s on cold nights from %s", name, short(risky))}
	if !winters {
		ways = []string{fmt.Sprintf("Begin %s early enough to be picked by %s", name, short(risky)), "cover it on cold nights from then"}
		if s.firstPick.Known() {
			ways[0] = fmt.Sprintf("Pick %s by %s", name, short(risky))
		}
	}
	if other := in.hardier(s.Crop, stage); other != nil {
		ways = append(ways, fmt.Sprintf("grow %s, which stands more cold", lower(other.Name)))
	}
	last := len(ways) - 1
	if last == 0 {
		return ways[0]
	}
	return strings.Join(ways[:last], ", ") + ", or " + ways[last]
}

// hardier is the kind for the same dish that stands most cold, of those that
// what kills this one would not even harm; nil for none.
func (in *Input) hardier(c *crop.Crop, stage string) *crop.Crop {
	var best *crop.Crop
	for _, other := range in.Catalogue.Crops() {
		if other.Dish != c.Dish || other == c || other.ColdAt(stage).DamageC > c.ColdAt(stage).KillC {
			continue
		}
		if best == nil || other.ColdAt(stage).KillC < best.ColdAt(stage).KillC {
			best = other
		}
	}
	return best
}
