package plan

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"testing"

	"haulm/internal/sharedfolder"
)

// size is how big a random problem may get.
type size struct{ weeks, years, beds, strips, crops, cands int }

var (
	tiny   = size{8, 3, 2, 3, 2, 4}
	medium = size{30, 5, 4, 9, 7, 60}
)

// randomProblem makes up a problem that passes Check, with every feature in it
// now and then: standing crops, bans, kinds, limits, setups, idle tiers.
func randomProblem(rng *rand.Rand, z size) *Problem {
	p := &Problem{Weeks: 2 + rng.IntN(z.weeks-1), Years: 1 + rng.IntN(z.years),
		Lambda: float64(rng.IntN(3)) / 2, Alpha: 0.1 + 0.9*rng.Float64(),
		LabourCap: float64(rng.IntN(60)), OvertimeCost: rng.Float64() * 0.3, LabourCost: rng.Float64() * 0.05,
		TrayCap: float64(rng.IntN(40)) / 10, SetupCost: float64(rng.IntN(2)) * rng.Float64()}
	for range p.Weeks {
		p.Bonus = append(p.Bonus, []float64{1, 1, 1.25, 1.6, 0.5}[rng.IntN(5)])
	}
	for c := range 1 + rng.IntN(z.crops) {
		crop := Crop{Name: fmt.Sprint("crop", c), Family: rng.IntN(4), Rotate: rng.IntN(4) > 0,
			Keep: []float64{0, 0.3, 0.6, 0.97, 1}[rng.IntN(5)], SunHours: float64(4 + rng.IntN(3))}
		for range 1 + rng.IntN(3) {
			crop.TierKg = append(crop.TierKg, rng.Float64())
			crop.TierVal = append(crop.TierVal, 6*rng.Float64())
		}
		p.Crops = append(p.Crops, crop)
	}
	for range 1 + rng.IntN(z.beds) {
		p.Beds = append(p.Beds, randomBed(rng, p, z))
	}
	for range 1 + rng.IntN(z.cands) {
		p.Cands = append(p.Cands, randomCandidate(rng, p))
	}
	return p
}

func randomBed(rng *rand.Rand, p *Problem, z size) Bed {
	b := Bed{Len: 1 + rng.IntN(z.strips), SunHours: float64(4 + rng.IntN(4)), Kind: rng.IntN(2)}
	for range b.Len {
		ban := uint32(0)
		if rng.IntN(3) == 0 {
			ban = 1 << rng.IntN(4)
		}
		b.Ban = append(b.Ban, ban)
	}
	if rng.IntN(3) == 0 {
		n := 1 + rng.IntN(b.Len)
		end := 1 + rng.IntN(p.Weeks)
		b.Standing = []Standing{{Crop: rng.IntN(len(p.Crops)), Strip: rng.IntN(b.Len - n + 1), Strips: n, End: end,
			Yield: randomYields(rng, p.Years, 0, end)}}
	}
	return b
}

func randomCandidate(rng *rand.Rand, p *Problem) Candidate {
	start := rng.IntN(p.Weeks)
	end := start + 1 + rng.IntN(min(p.Weeks-start, 12))
	c := Candidate{Crop: rng.IntN(len(p.Crops)), Route: "d", Start: start, End: end, MinStrips: rng.IntN(3),
		Cost: rng.Float64() / 2, LabourAt: start, Yield: randomYields(rng, p.Years, start, end)}
	for range rng.IntN(end - start + 1) {
		c.Labour = append(c.Labour, int32(rng.IntN(100)))
	}
	if rng.IntN(3) == 0 {
		c.Tray = Tray{rng.IntN(start + 1), start, 1 + rng.IntN(99)}
	}
	if rng.IntN(4) == 0 {
		c.MaxStrips = 1 + rng.IntN(4)
	}
	if rng.IntN(4) == 0 {
		c.Kinds = 1 << rng.IntN(2)
	}
	return c
}

func randomYields(rng *rand.Rand, years, from, to int) []Yield {
	all := make([]Yield, years)
	for s := range all {
		if rng.IntN(8) == 0 {
			continue
		}
		all[s].First = from + rng.IntN(to-from)
		for range 1 + rng.IntN(to-all[s].First) {
			all[s].Grams = append(all[s].Grams, int32(rng.IntN(900)))
		}
	}
	return all
}

// instance reads one of the shared made-up instances, or skips.
func instance(t testing.TB, name string) *Problem {
	t.Helper()
	p, err := Read(bytes.NewReader(sharedfolder.Bytes(t, "reference/plan_problem", name+".json.gz")))
	if err != nil {
		t.Fatal(err)
	}
	return p
}
