package garden

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Check says what is wrong with a garden: one sentence with what, where and
// what to do, or nil. The first fault in the order of the text form is the
// one reported. Crop and dish names are CheckNames' business.
func Check(g *Garden) error {
	if g == nil {
		return errors.New("there is no garden; make one first")
	}
	checks := []func(*Garden) error{
		checkHead, checkHousehold, checkPlaces, checkWants, checkHistory, checkStanding, checkOverlap, checkInStore, checkLocks, checkKeeps,
	}
	for _, check := range checks {
		if err := check(g); err != nil {
			return err
		}
	}
	return nil
}

// within is an error unless low <= v <= high; a NaN is never within.
func within(subject, what string, v, low, high float64, unit string) error {
	if v >= low && v <= high {
		return nil
	}
	return fmt.Errorf("%s: %s is %s; give a number from %s to %s%s",
		subject, what, formatNumber(v), formatNumber(low), formatNumber(high), unit)
}

// oneOf is an error unless v is in list.
func oneOf(subject, what, v string, list []string) error {
	if slices.Contains(list, v) {
		return nil
	}
	shown := slices.DeleteFunc(slices.Clone(list), func(s string) bool { return s == "" })
	if len(shown) < len(list) {
		return fmt.Errorf("%s: %s %q is not known; write one of %s, or leave it out", subject, what, v, strings.Join(shown, ", "))
	}
	return fmt.Errorf("%s: %s %q is not known; write one of %s", subject, what, v, strings.Join(shown, ", "))
}

// named is an error unless s can serve as a name on a page and in a table.
func named(subject, s string) error {
	switch {
	case strings.TrimSpace(s) == "":
		return fmt.Errorf("%s has no name; give it one", subject)
	case utf8.RuneCountInString(s) > maxNameRunes:
		return fmt.Errorf("%s: its name is longer than %d letters; shorten it", subject, maxNameRunes)
	case !utf8.ValidString(s) || strings.ContainsFunc(s, unicode.IsControl):
		return fmt.Errorf("%s: its name %q holds signs that cannot be shown; use plain letters", subject, s)
	}
	return nil
}

func checkHead(g *Garden) error {
	if strings.TrimSpace(g.WeatherRef) == "" {
		return fmt.Errorf("garden %q: no weather is named; give a record's name or a built-in climate such as built-in:mild-maritime", g.Name)
	}
	return firstOf(
		named("the garden", g.Name),
		named("the weather record", g.WeatherRef),
		within("site", "latitude", g.Site.LatDeg, -90, 90, " degrees, south negative"),
		within("site", "longitude", g.Site.LonDeg, -180, 180, " degrees, west negative"),
		within("site", "elevation", g.Site.ElevM, minElevM, maxElevM, " m"),
		oneOf("the garden", "soil", g.Soil, soils()),
	)
}

func firstOf(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// plainOrEmpty is named for text that may be left out.
func plainOrEmpty(subject, s string) error {
	if s == "" {
		return nil
	}
	return named(subject, s)
}

func checkHousehold(g *Garden) error {
	h := g.Household
	return firstOf(
		within("household", "the number of people", float64(h.People), 1, maxPeople, ""),
		within("household", "portions per person and day", h.PortionsPerDay, 0, maxPortionsPerDay, ""),
		within("household", "minutes per week", h.MinutesPerWeek, 0, maxMinutesPerWeek, ""),
		within("household", "the number of indoor trays", h.IndoorTrays, 0, maxTrays, ""),
		oneOf("household", "experience", h.Experience, experiences),
	)
}

func checkPlaces(g *Garden) error {
	if len(g.Places) == 0 {
		return fmt.Errorf("garden %q has no places; add at least one bed, border or set of pots", g.Name)
	}
	if len(g.Places) > maxPlaces {
		return fmt.Errorf("garden %q has %d places; at most %d can be planned, so join like beds or split the garden", g.Name, len(g.Places), maxPlaces)
	}
	seen := map[string]bool{}
	for i, p := range g.Places {
		if err := named(fmt.Sprintf("place %d", i+1), p.Name); err != nil {
			return err
		}
		if key := strings.ToLower(p.Name); seen[key] {
			return fmt.Errorf("two places are called %q; give each its own name", p.Name)
		} else {
			seen[key] = true
		}
		if err := checkPlace(p); err != nil {
			return err
		}
	}
	return nil
}

func checkPlace(p Place) error {
	subject := fmt.Sprintf("place %q", p.Name)
	if err := firstOf(
		oneOf(subject, "kind", p.Kind, kinds),
		oneOf(subject, "cover", p.Cover, covers),
		oneOf(subject, "soil", p.Soil, soils()),
		oneOf(subject, "runs_to", p.RunsTo, points),
		within(subject, "hours of sun", p.SunHours, 0, maxSunHours, " a day"),
	); err != nil {
		return err
	}
	if p.Kind == Pots {
		if p.Soil != "" {
			return fmt.Errorf("%s: pots hold a mix, not the ground's soil; leave soil out", subject)
		}
		if p.LengthM != 0 || p.WidthM != 0 {
			return fmt.Errorf("%s: pots have litres, not a length or width; leave those out, or make it a bed", subject)
		}
		return firstOf(
			within(subject, "the number of pots", float64(p.Pots), 1, maxPots, ""),
			within(subject, "the size of a pot", p.Litres, minLitres, maxLitres, " litres, and call anything larger a bed"),
		)
	}
	if p.Pots != 0 || p.Litres != 0 {
		return fmt.Errorf("%s: a %s has a length and width, not pots or litres; leave those out, or make its kind pots", subject, p.Kind)
	}
	if p.Kind == Covered && p.Cover == "" {
		return fmt.Errorf("%s: it is covered, but no cover is named; write one of %s", subject, strings.Join(covers[1:], ", "))
	}
	return firstOf(
		within(subject, "length", p.LengthM, minLengthM, maxLengthM, " m"),
		within(subject, "width", p.WidthM, minWidthM, maxWidthM, " m"),
	)
}

func checkWants(g *Garden) error {
	if err := fewEnough("wants", len(g.Wants)); err != nil {
		return err
	}
	seen := map[string]bool{}
	for i, w := range g.Wants {
		subject := fmt.Sprintf("want %q", w.Dish)
		if err := firstOf(
			named(fmt.Sprintf("want %d: the dish", i+1), w.Dish),
			within(subject, "portions per week", w.PortionsPerWeek, 0, maxPortionsPerWeek, ""),
			within(subject, "liking", w.Liking, 0, maxLiking, " (1 is usual)"),
		); err != nil {
			return err
		}
		if seen[w.Dish] {
			return fmt.Errorf("%s: it stands twice among the wants; keep one", subject)
		}
		seen[w.Dish] = true
	}
	return nil
}

func fewEnough(what string, n int) error {
	if n > maxEntries {
		return fmt.Errorf("there are %d %s; at most %d can be kept, so drop the oldest", n, what, maxEntries)
	}
	return nil
}

func checkHistory(g *Garden) error {
	if err := fewEnough("entries of what grew before", len(g.History)); err != nil {
		return err
	}
	for _, h := range g.History {
		subject := fmt.Sprintf("%s grown in %q", h.Crop, h.Place)
		if err := firstOf(
			named("a crop grown before", h.Crop),
			checkStretch(g, subject, h.Place, h.FromCM, h.ToCM),
			within(subject, "year", float64(h.Year), minYear, maxYear, ""),
		); err != nil {
			return err
		}
	}
	return nil
}

// checkStretch is an error unless from..to lies in a place of the garden.
func checkStretch(g *Garden, subject, place string, fromCM, toCM int) error {
	p, ok := g.Place(place)
	if !ok {
		names := make([]string, len(g.Places))
		for i := range g.Places {
			names[i] = g.Places[i].Name
		}
		return fmt.Errorf("%s: there is no place %q; %s", subject, place, hint(place, names))
	}
	length := p.LengthCM()
	switch {
	case fromCM < 0 || toCM > length:
		return fmt.Errorf("%s: from %d to %d cm runs outside it; it is %d cm long", subject, fromCM, toCM, length)
	case fromCM >= toCM:
		return fmt.Errorf("%s: from %d to %d cm is no ground; to_cm must be larger than from_cm", subject, fromCM, toCM)
	}
	return nil
}
