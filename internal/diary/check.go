package diary

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"haulm/internal/unit"
)

// Bounds beyond which an entry is a slip of the pen, not a garden.
const (
	mostRainMM    = 2000 // the world's wettest day, 1,825 mm (WMO weather extremes archive)
	leastLowC     = -60
	mostLowC      = 45
	mostCount     = 100_000
	mostLitresM2  = 300 // a foot of water over the ground
	yieldMargin   = 3.0 // times the catalogue's high yield over all the ground
	oldestDays    = 40 * 366
	someLitres    = 20_000
	mostKgUnknown = 500
)

// Check says why an entry cannot be true, in one sentence with what to do, or
// nil; doubts are what is odd about it but may be so.
func Check(e Entry, c Context) (doubts []string, err error) {
	if !slices.Contains(Kinds(), e.Kind) {
		return nil, fmt.Errorf("%q is nothing the diary knows; use one of: %s", e.Kind, kindList())
	}
	if err := checkDay(e, c); err != nil {
		return nil, err
	}
	if e.Place != "" {
		if _, ok := c.place(e.Place); !ok {
			return nil, fmt.Errorf("no place is called %q", e.Place)
		}
	}
	if e.Crop != "" && c.Catalogue != nil && c.Catalogue.Crop(e.Crop) == nil {
		return nil, fmt.Errorf("no crop has the key %q", e.Crop)
	}
	if err := checkNeeds(e); err != nil {
		return nil, err
	}
	if err := checkAmount(e, c); err != nil {
		return nil, err
	}
	doubts, err = checkPlanting(e, c)
	return append(doubts, runToSeed(e, c)...), err
}

// runToSeed tells what the flowers of a crop mean that is eaten before them.
func runToSeed(e Entry, c Context) []string {
	if e.Kind != Flowering || c.Catalogue == nil {
		return nil
	}
	cr := c.Catalogue.Crop(e.Crop)
	if cr == nil || cr.Fruits() || cr.Bolting.WantedForCrop || cr.Bolting.DaysToBolt == 0 && cr.Heat.BoltsMeanC == 0 {
		return nil
	}
	return []string{fmt.Sprintf("%s in flower has run to seed: take what is still good, and write it cleared when it is out", c.cropName(e.Crop))}
}

func kindList() string {
	var names []string
	for _, k := range Kinds() {
		names = append(names, string(k))
	}
	return strings.Join(names, ", ")
}

func checkDay(e Entry, c Context) error {
	switch {
	case !e.Day.Known():
		return fmt.Errorf("the day is missing")
	case e.Day > c.Today:
		return fmt.Errorf("%s has not come yet (today is %s): the diary takes what has happened", e.Day.Format("2 January 2006"), c.Today.Format("2 January 2006"))
	case e.Day < c.Today.Add(-oldestDays):
		return fmt.Errorf("%s is too long ago for a garden's diary", e.Day.Format("2 January 2006"))
	}
	return nil
}

// checkNeeds asks for what an entry means nothing without.
func checkNeeds(e Entry) error {
	switch e.Kind {
	case Sown, Up, PrickedOut, HardenedOff, Planted, Picked, PottedOn, Thinned, EarthedUp, PinchedOut, Flowering:
		if e.Crop == "" {
			example := " carrots"
			if e.Kind == Flowering {
				example = " beans"
			}
			return fmt.Errorf("%s what? name the crop, such as %q", e.Kind, string(e.Kind)+example)
		}
	case Lost, Cleared, Stored:
		if e.Crop == "" && e.Place == "" {
			return fmt.Errorf("%s what? name the crop or the place", e.Kind)
		}
	case Watered:
		if e.Crop == "" && e.Place == "" {
			return fmt.Errorf("watered what? name the place or the crop")
		}
	case Rain, Low:
		if !e.Given() {
			return fmt.Errorf("%s: how much? write %q", e.Kind, map[Kind]string{Rain: "rain 12 mm", Low: "low -2"}[e.Kind])
		}
	}
	return nil
}

// checkAmount holds an amount against sense and against the ground.
func checkAmount(e Entry, c Context) error {
	if err := checkSense(e); err != nil {
		return err
	}
	return checkAgainstGround(e, c)
}

// checkSense refuses an amount that can be true of no garden.
func checkSense(e Entry) error {
	if !e.Given() {
		return nil
	}
	if math.IsNaN(e.Amount) || math.IsInf(e.Amount, 0) {
		return fmt.Errorf("the amount is no number")
	}
	if !takes(e.Kind, e.Unit) {
		return fmt.Errorf("%s is no unit for %q", e.Unit, e.Kind)
	}
	if e.Kind == Low {
		if t := e.TempC(); t < leastLowC || t > mostLowC {
			return fmt.Errorf("a night of %s cannot be: check the figure and whether it is °C or °F", e.AmountWords())
		}
		return nil
	}
	if e.Amount < 0 || e.Amount == 0 && e.Kind != Rain {
		return fmt.Errorf("%s %s: give an amount above nought", e.Kind, e.AmountWords())
	}
	if mm := e.RainMM(); mm > mostRainMM {
		return fmt.Errorf("%s of rain in a day cannot be: check the unit", e.AmountWords())
	}
	if e.Unit == Percent && e.Amount > 100 {
		return fmt.Errorf("%s %% is more than there was: give 100 or less", unit.Number(e.Amount, 0))
	}
	if e.Unit == Count && e.Amount > mostCount {
		return fmt.Errorf("%s plants is more than a garden holds: check the figure", e.AmountWords())
	}
	return nil
}

// checkAgainstGround holds water and weight against the ground of the garden.
func checkAgainstGround(e Entry, c Context) error {
	if !e.Given() {
		return nil
	}
	if l := e.Litres(); !math.IsNaN(l) {
		return checkLitres(e, c, l)
	}
	if kg := e.Kg(); !math.IsNaN(kg) {
		return checkKg(e, c, kg)
	}
	return nil
}

func checkLitres(e Entry, c Context, litres float64) error {
	most := float64(someLitres)
	if p, ok := c.place(e.Place); ok {
		most = mostLitresM2 * area(p)
	}
	if litres > most {
		return fmt.Errorf("%s on %s is more than the ground could take (%.0f litres at most): check the figure", e.AmountWords(), cmpPlace(e.Place), most)
	}
	return nil
}

func cmpPlace(name string) string {
	if name == "" {
		return "the garden"
	}
	return name
}

// checkKg holds a weight against the best that the ground could give.
func checkKg(e Entry, c Context, kg float64) error {
	most := float64(mostKgUnknown)
	if c.Catalogue != nil && e.Crop != "" {
		ground := 0.0
		for _, p := range c.Places {
			if e.Place == "" || p.Name == e.Place {
				ground += area(p)
			}
		}
		if cr := c.Catalogue.Crop(e.Crop); cr != nil && ground > 0 {
			most = yieldMargin * cr.Yield.HighKgM2 * ground
		}
	}
	if kg > most {
		return fmt.Errorf("%s of %s is more than %s could give (about %.0f kg if all of it were that crop, in a very good year, three times over): check the figure and the unit",
			e.AmountWords(), c.cropName(e.Crop), cmpPlace(e.Place), most)
	}
	return nil
}

// checkPlanting holds an entry against the planting it speaks of.
func checkPlanting(e Entry, c Context) (doubts []string, err error) {
	if e.Planting == "" {
		return unplanted(e, c), nil
	}
	s, there := c.Planting(e.Planting)
	if !there {
		return nil, nil // of an earlier plan; what it says is kept
	}
	name := c.cropName(s.Crop)
	if needsBegun(e.Kind) && s.Begun.Known() && e.Day < s.Begun {
		return nil, fmt.Errorf("%s in %s was begun on %s: it cannot have been %s on %s; check the day", name, s.Place,
			s.Begun.Format("2 January"), e.Kind, e.Day.Format("2 January 2006"))
	}
	if s.Cleared.Known() && e.Day > s.Cleared && e.Kind != Stored && e.Kind != Note {
		return nil, fmt.Errorf("%s in %s was cleared on %s: it cannot have been %s on %s; undo the clearing first, or correct the day", name, s.Place,
			s.Cleared.Format("2 January"), e.Kind, e.Day.Format("2 January 2006"))
	}
	if needsBegun(e.Kind) && !s.Begun.Known() && s.Planned.Known() && s.Planned > c.Today {
		return nil, fmt.Errorf("%s in %s is to be begun on %s and no sowing is noted: note that first (%q)", name, s.Place,
			s.Planned.Format("2 January 2006"), "sown "+name+" 12 March")
	}
	return nil, nil
}

// needsBegun says whether an entry can only follow a sowing or planting.
func needsBegun(k Kind) bool {
	switch k {
	case Sown, Rain, Low, Note, Planted, Stored, Watered, Mulched, Weeded, Covered, Uncovered, Silenced, Skipped:
		return false
	}
	return true
}

// unplanted doubts an entry on a crop of which nothing is known to grow.
func unplanted(e Entry, c Context) []string {
	if e.Crop == "" || e.Kind == Sown || e.Kind == Planted || e.Kind == Stored || e.Kind == PrickedOut {
		return nil
	}
	for _, s := range c.Standing {
		if s.Crop == e.Crop {
			return nil
		}
	}
	return []string{fmt.Sprintf("no %s is known to grow here; kept all the same", c.cropName(e.Crop))}
}
