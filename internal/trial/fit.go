package trial

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"haulm/internal/grow"
)

//go:embed data/fitted.csv
var fittedTable string

// Group is a set of crops whose thermal times the trials may move together, by
// one factor.
type Group struct {
	Name       string
	Emergence  bool // the factor is on thermal time to emergence, else on that to the first picking
	Crops      []string
	Class      string  // only this class of them; "" = all
	Factor     float64 // that the catalogue's figures hold already
	PriorLogSD float64 // how far the figures before may be believed to be out
	Note       string
}

// Groups reads the table of what the trials may move.
func Groups() ([]Group, error) {
	table, err := csv.NewReader(strings.NewReader(fittedTable)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("table of fitted factors: %w", err)
	}
	var groups []Group
	for _, cells := range table[1:] {
		g := Group{Name: cells[0], Emergence: cells[1] == "emergence", Crops: strings.Split(cells[2], "|"), Class: cells[3], Note: cells[6]}
		if g.Factor, err = strconv.ParseFloat(cells[4], 64); err != nil {
			return nil, fmt.Errorf("table of fitted factors, %s: %w", g.Name, err)
		}
		if g.PriorLogSD, err = strconv.ParseFloat(cells[5], 64); err != nil {
			return nil, fmt.Errorf("table of fitted factors, %s: %w", g.Name, err)
		}
		groups = append(groups, g)
	}
	return groups, nil
}

// Case is a row made ready: what it is of ours, and the weather it had.
type Case struct {
	Row     Row
	Subject Subject
	Weather Weather
}

// fold is the square of one degree in which a trial lay: trials of one farm, or
// of farms that share a season's weather, are judged by a fit that has seen
// none of them.
func (c Case) fold() [2]int {
	return [2]int{int(math.Floor(c.Row.Site.LatDeg)), int(math.Floor(c.Row.Site.LonDeg))}
}

// pace turns a factor of the figures before into a pace of the catalogue's.
func (g Group) pace(factor float64) grow.Pace {
	p := grow.ByTheBook
	if g.Emergence {
		p.Emergence = factor / g.Factor
	} else {
		p.Growth = factor / g.Factor
	}
	return p
}

func (g Group) has(c Case) bool {
	return slices.Contains(g.Crops, c.Subject.Crop.Key) && (g.Class == "" || g.Class == c.Subject.Class)
}

// Fit is the factor on the figures before that best suits the cases of the
// group: the peak of a log-normal prior around 1 times a likelihood of dates.
func (g Group) Fit(cases []Case) (float64, error) {
	best, least := 1.0, math.Inf(1)
	for step := -fitSteps; step <= fitSteps; step++ {
		factor := math.Exp(float64(step) * fitStep)
		misfit := math.Pow(math.Log(factor)/g.PriorLogSD, 2)
		for _, c := range cases {
			if !g.has(c) {
				continue
			}
			m, err := g.misfit(c, factor)
			if err != nil {
				return 0, err
			}
			misfit += m
		}
		if misfit < least {
			best, least = factor, misfit
		}
	}
	return best, nil
}

// The search goes by half per cents over a range of e^±0.5. Dates weigh as if
// they were out by a share of their days, and no date counts for more than one
// three such errors out, so that a single odd trial does not drag the rest.
const (
	fitStep        = 0.005
	fitSteps       = 100
	harvestShare   = 0.08
	leastDays      = 4.0
	emergeShare    = 0.12
	leastEmergence = 2.0
	oddest         = 9.0
)

func (g Group) misfit(c Case, factor float64) (float64, error) {
	up, ready, err := Middle(c.Row, c.Subject, c.Weather, g.pace(factor))
	if err != nil {
		return 0, err
	}
	start := c.Row.start()
	if g.Emergence {
		if !c.Row.Emerged.Known() {
			return 0, nil
		}
		return weigh(up, int(c.Row.Emerged-start), emergeShare, leastEmergence), nil
	}
	observed := int(c.Row.Harvest() - start)
	switch c.Row.Bound() {
	case Dated:
		return weigh(ready, observed, harvestShare, leastDays), nil
	case FromOver:
		if ready > observed {
			return weigh(ready, observed, harvestShare, leastDays), nil
		}
	}
	return 0, nil
}

func weigh(got, observed int, share, least float64) float64 {
	if got == grow.Never {
		return oddest
	}
	sd := math.Max(least, share*float64(observed))
	return math.Min(oddest, math.Pow(float64(got-observed)/sd, 2))
}

// OutOfFold grows every case at the pace fitted to the cases of the other
// squares, so that no row is judged by a fit that has seen it or its
// neighbours.
func OutOfFold(cases []Case, groups []Group) ([]Outcome, error) {
	outcomes := make([]Outcome, 0, len(cases))
	fitted := map[string]float64{}
	for _, c := range cases {
		pace := grow.ByTheBook
		for _, g := range groups {
			if !g.has(c) {
				continue
			}
			key := fmt.Sprint(g.Name, c.fold())
			if _, done := fitted[key]; !done {
				others := slices.DeleteFunc(slices.Clone(cases), func(o Case) bool { return o.fold() == c.fold() })
				factor, err := g.Fit(others)
				if err != nil {
					return nil, err
				}
				fitted[key] = factor
			}
			pace = times(pace, g.pace(fitted[key]))
		}
		outcome, err := Through(c.Row, c.Subject, c.Weather, pace)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", c.Row.ID, err)
		}
		outcomes = append(outcomes, outcome)
	}
	return outcomes, nil
}
