package plan

import "slices"

// Problem is one cropping problem. Weeks count from 0 to Weeks-1, strips of a
// bed from 0 to Len-1, and every weather year is equally likely. The JSON keys
// are the published short ones.
type Problem struct {
	Name  string `json:"name,omitempty"`
	Weeks int    `json:"T"` // weeks in the horizon
	Years int    `json:"S"` // weather years

	// Lambda is the weight of the bad years: the table's worth is
	// (1-Lambda) x mean + Lambda x mean of the worst Alpha share of the years.
	Lambda float64 `json:"lambda"`
	Alpha  float64 `json:"alpha"`

	LabourCap    float64 `json:"labCap"`          // minutes a week before overtime
	OvertimeCost float64 `json:"labPen"`          // on top of LabourCost, per minute above LabourCap
	LabourCost   float64 `json:"labCost"`         // per minute
	TrayCap      float64 `json:"trayCap"`         // indoor tray units, a hard limit
	SetupCost    float64 `json:"setup,omitempty"` // per planting, whatever its length

	Bonus []float64   `json:"bonus"` // per week, multiplies the value of tier 0
	Beds  []Bed       `json:"beds"`
	Crops []Crop      `json:"crops"`
	Cands []Candidate `json:"cands"`

	// What the grower has settled beforehand; all may be absent.
	Fixed   []Planting `json:"fixed,omitempty"`   // plantings that every plan has
	Closed  []Closure  `json:"closed,omitempty"`  // ground that nothing may be planted on for a while
	Without []int      `json:"without,omitempty"` // crops that may not be planted
	// TrayTaken is the indoor space that other plants have, in hundredths of a tray unit
	// by week; it may be more than there is.
	TrayTaken []int `json:"trayTaken,omitempty"`
}

// trayRoom is the indoor space left to plantings in a week, in tray units.
func (p *Problem) trayRoom(week int) float64 {
	if len(p.TrayTaken) == 0 {
		return p.TrayCap
	}
	return max(0, p.TrayCap-float64(p.TrayTaken[week])/100)
}

// Closure keeps plantings (Fixed ones too) off some strips of a bed in weeks
// From <= w < To.
type Closure struct {
	Bed    int `json:"bed"`
	Strip  int `json:"strip"`
	Strips int `json:"strips"`
	From   int `json:"from"`
	To     int `json:"to"`
}

// Bed is a row of equal strips.
type Bed struct {
	Len      int        `json:"len"`
	SunHours float64    `json:"sun"`
	Ban      []uint32   `json:"ban"` // per strip: families (bit f) that may not grow there
	Standing []Standing `json:"stand"`
	// Kind is matched against Candidate.Kinds; 0 to 31, 0 when absent.
	Kind int `json:"kind,omitempty"`
}

// Standing is a crop already in the ground at the start. It keeps its strips
// until week End (exclusive) and yields what it yields, whatever is planned.
type Standing struct {
	Crop   int     `json:"Crop"`
	Strip  int     `json:"Strip"`
	Strips int     `json:"N"`
	End    int     `json:"End"`
	Yield  []Yield `json:"Y"` // per year, grams per strip
}

// families is how many families there can be.
const families = 16

// Crop is what the table eats: how much a week, at what worth, and how it keeps.
type Crop struct {
	Name   string `json:"name"`
	Family int    `json:"fam"` // 0 to 15
	// Rotate: at most one planting (or standing crop) of this family's rotating
	// crops on a strip within the horizon, and none where the strip bans it.
	Rotate   bool      `json:"rot"`
	Keep     float64   `json:"rho"`    // share of a stock that lasts to the next week, 0 to 1
	SunHours float64   `json:"sun"`    // needed by the bed
	TierKg   []float64 `json:"tierKg"` // kg a week that the table takes, first and dearest tier first
	TierVal  []float64 `json:"tierV"`  // worth per kg in each tier
	Tall     bool      `json:"tall"`
}

// Candidate is one crop raised by one route and started in one week. Amounts are
// per strip.
type Candidate struct {
	Crop      int     `json:"c"`
	Route     string  `json:"m"`
	Start     int     `json:"a"`             // first week on the ground
	End       int     `json:"e"`             // week when the ground is free again
	MinStrips int     `json:"min"`           // at least this many strips in one planting
	MaxStrips int     `json:"max,omitempty"` // at most this many strips over the whole plan; 0 = no limit
	Cost      float64 `json:"cost"`          // seed and sundries
	LabourAt  int     `json:"l0"`            // week of Labour[0]
	Labour    []int32 `json:"lab"`           // tenths of a minute, week by week
	Tray      Tray    `json:"tray"`
	Yield     []Yield `json:"y"`               // per year, grams
	Kinds     uint32  `json:"kinds,omitempty"` // bed kinds (bit k) it may use; 0 = any
}

// Tray is the indoor space a strip's young plants take in weeks From to To-1,
// in hundredths of a tray unit.
type Tray struct {
	From, To, Hundredths int
}

// Yield is what a strip gives in one year: grams picked in weeks First,
// First+1, ... No grams at all means that the year failed.
type Yield struct {
	First int
	Grams []int32
}

// Planting puts a candidate on Strips strips of a bed, beginning at Strip.
type Planting struct {
	Cand   int `json:"cand"`
	Bed    int `json:"bed"`
	Strip  int `json:"strip"`
	Strips int `json:"strips"`
}

// Plan is a set of plantings. Order carries no meaning; Solve returns them by
// bed, strip and start week.
type Plan struct {
	Plantings []Planting `json:"plantings"`
}

// MayGrow says whether a bed suits a candidate at all: sun and kind, and its crop
// not ruled out. It says nothing of families, of what else stands there or of space.
func (p *Problem) MayGrow(cand, bed int) bool {
	c, b := &p.Cands[cand], &p.Beds[bed]
	if slices.Contains(p.Without, c.Crop) {
		return false
	}
	return b.SunHours >= p.Crops[c.Crop].SunHours && (c.Kinds == 0 || c.Kinds>>uint(b.Kind)&1 == 1)
}
