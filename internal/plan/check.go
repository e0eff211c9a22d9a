package plan

import (
	"fmt"
	"math"
)

// Check verifies every length, index and range, as Read does, for a problem that
// was built in memory. A nil error means that Evaluate, Validate and Solve may
// index freely.
func (p *Problem) Check() error {
	if err := p.checkScalars(); err != nil {
		return err
	}
	if len(p.Beds) == 0 {
		return fmt.Errorf("beds: there is no bed to plant")
	}
	if len(p.Beds) > maxBeds || len(p.Crops) > maxCrops || len(p.Cands) > maxCands {
		return fmt.Errorf("too large: %d beds, %d crops, %d candidates; at most %d, %d, %d",
			len(p.Beds), len(p.Crops), len(p.Cands), maxBeds, maxCrops, maxCands)
	}
	for i := range p.Crops {
		if err := p.checkCrop(i, &p.Crops[i]); err != nil {
			return err
		}
	}
	ground := 0
	for i := range p.Beds {
		b := &p.Beds[i]
		if err := p.checkBed(i, b); err != nil {
			return err
		}
		if ground += b.Len; ground > maxGround {
			return fmt.Errorf("beds: more than %d strips in all", maxGround)
		}
		if err := p.checkStandings(i, b); err != nil {
			return err
		}
	}
	for i := range p.Cands {
		if err := p.checkCandidate(i, &p.Cands[i]); err != nil {
			return err
		}
	}
	return p.checkSettled()
}

// checkSettled verifies what the grower has settled beforehand.
func (p *Problem) checkSettled() error {
	for i, crop := range p.Without {
		if crop < 0 || crop >= len(p.Crops) {
			return fmt.Errorf("without[%d]: crop %d, but there are %d crops", i, crop, len(p.Crops))
		}
	}
	for i, c := range p.Closed {
		if c.Bed < 0 || c.Bed >= len(p.Beds) {
			return fmt.Errorf("closed[%d]: bed %d, but there are %d beds", i, c.Bed, len(p.Beds))
		}
		if n := p.Beds[c.Bed].Len; c.Strips < 1 || c.Strip < 0 || c.Strips > n || c.Strip > n-c.Strips {
			return fmt.Errorf("closed[%d]: strips %d to %d are not in a bed of %d", i, c.Strip, c.Strip+c.Strips-1, n)
		}
		if c.From < 0 || c.To <= c.From || c.To > p.Weeks {
			return fmt.Errorf("closed[%d]: weeks %d to %d, want a span within 0 to %d", i, c.From, c.To, p.Weeks)
		}
	}
	if n := len(p.TrayTaken); n != 0 && n != p.Weeks {
		return fmt.Errorf("trayTaken: %d weeks, want none or %d as T says", n, p.Weeks)
	}
	for w, taken := range p.TrayTaken {
		if !within(float64(taken), 0, 100*maxMoney) {
			return fmt.Errorf("trayTaken[%d]: %d hundredths, want 0 to %g", w, taken, 100*float64(maxMoney))
		}
	}
	if len(p.Fixed) == 0 {
		return nil
	}
	if broken := Validate(p, p.Fixed); len(broken) > 0 {
		return fmt.Errorf("fixed: the plantings break a rule among themselves: %s; take the one to blame out or mend it", broken[0])
	}
	return nil
}

func (p *Problem) checkScalars() error {
	if p.Weeks < 1 || p.Weeks > maxWeeks {
		return fmt.Errorf("weeks T: %d weeks, want 1 to %d", p.Weeks, maxWeeks)
	}
	if p.Years < 1 || p.Years > maxYears {
		return fmt.Errorf("years S: %d weather years, want 1 to %d", p.Years, maxYears)
	}
	if !within(p.Lambda, 0, 1) {
		return fmt.Errorf("lambda: %g, want 0 to 1", p.Lambda)
	}
	if !within(p.Alpha, 0, 1) || p.Alpha == 0 && p.Lambda > 0 {
		return fmt.Errorf("alpha: %g, want above 0 and at most 1", p.Alpha)
	}
	for _, v := range []struct {
		name string
		x    float64
	}{{"labCap", p.LabourCap}, {"labPen", p.OvertimeCost}, {"labCost", p.LabourCost},
		{"trayCap", p.TrayCap}, {"setup", p.SetupCost}} {
		if !within(v.x, 0, maxMoney) {
			return fmt.Errorf("%s: %g, want 0 to %g", v.name, v.x, float64(maxMoney))
		}
	}
	if len(p.Bonus) != p.Weeks {
		return fmt.Errorf("bonus: %d weeks, want %d as T says", len(p.Bonus), p.Weeks)
	}
	for w, b := range p.Bonus {
		if !within(b, 0, maxMoney) {
			return fmt.Errorf("bonus[%d]: %g, want 0 to %g", w, b, float64(maxMoney))
		}
	}
	return nil
}

func (p *Problem) checkCrop(i int, c *Crop) error {
	at := func(format string, args ...any) error {
		return fmt.Errorf("crops[%d] %q: %s", i, c.Name, fmt.Sprintf(format, args...))
	}
	if c.Family < 0 || c.Family >= families {
		return at("fam %d, want 0 to %d", c.Family, families-1)
	}
	if !within(c.Keep, 0, 1) {
		return at("rho %g, want 0 to 1", c.Keep)
	}
	if !within(c.SunHours, 0, 24) {
		return at("sun %g hours, want 0 to 24", c.SunHours)
	}
	if len(c.TierKg) == 0 || len(c.TierKg) > maxTiers || len(c.TierKg) != len(c.TierVal) {
		return at("%d tierKg and %d tierV, want as many of both, 1 to %d", len(c.TierKg), len(c.TierVal), maxTiers)
	}
	for k := range c.TierKg {
		if !within(c.TierKg[k], 0, maxMoney) || !within(c.TierVal[k], 0, maxMoney) {
			return at("tier %d takes %g kg at %g, want 0 to %g", k, c.TierKg[k], c.TierVal[k], float64(maxMoney))
		}
	}
	return nil
}

func (p *Problem) checkBed(i int, b *Bed) error {
	if b.Len < 1 || b.Len > maxStrips {
		return fmt.Errorf("beds[%d]: len %d strips, want 1 to %d", i, b.Len, maxStrips)
	}
	if !within(b.SunHours, 0, 24) {
		return fmt.Errorf("beds[%d]: sun %g hours, want 0 to 24", i, b.SunHours)
	}
	if b.Kind < 0 || b.Kind > 31 {
		return fmt.Errorf("beds[%d]: kind %d, want 0 to 31", i, b.Kind)
	}
	if len(b.Ban) != b.Len {
		return fmt.Errorf("beds[%d]: ban has %d strips, want %d as len says", i, len(b.Ban), b.Len)
	}
	return nil
}

func (p *Problem) checkStandings(i int, b *Bed) error {
	until := make([]int, b.Len)
	for k := range b.Standing {
		s := &b.Standing[k]
		if err := p.checkStanding(i, k, b, s); err != nil {
			return err
		}
		for j := s.Strip; j < s.Strip+s.Strips; j++ {
			if until[j] > 0 {
				return fmt.Errorf("beds[%d].stand[%d]: strip %d already carries another standing crop", i, k, j)
			}
			until[j] = s.End
		}
	}
	return nil
}

func (p *Problem) checkStanding(i, k int, b *Bed, s *Standing) error {
	at := func(format string, args ...any) error {
		return fmt.Errorf("beds[%d].stand[%d]: %s", i, k, fmt.Sprintf(format, args...))
	}
	if s.Crop < 0 || s.Crop >= len(p.Crops) {
		return at("Crop %d, but there are %d crops", s.Crop, len(p.Crops))
	}
	if s.Strips < 1 || s.Strip < 0 || s.Strips > b.Len || s.Strip > b.Len-s.Strips {
		return at("strips %d to %d are not in a bed of %d", s.Strip, s.Strip+s.Strips-1, b.Len)
	}
	if s.End < 1 || s.End > p.Weeks {
		return at("End week %d, want 1 to %d", s.End, p.Weeks)
	}
	return p.checkYields(s.Yield, 0, s.End, at)
}

func (p *Problem) checkCandidate(i int, c *Candidate) error {
	at := func(format string, args ...any) error {
		return fmt.Errorf("cands[%d]: %s", i, fmt.Sprintf(format, args...))
	}
	if c.Crop < 0 || c.Crop >= len(p.Crops) {
		return at("crop %d, but there are %d crops", c.Crop, len(p.Crops))
	}
	if c.Start < 0 || c.End <= c.Start || c.End > p.Weeks {
		return at("weeks %d to %d, want a span within 0 to %d", c.Start, c.End, p.Weeks)
	}
	if c.MinStrips < 0 || c.MinStrips > maxGround || c.MaxStrips < 0 || c.MaxStrips > maxGround {
		return at("min %d and max %d strips, want 0 to %d", c.MinStrips, c.MaxStrips, maxGround)
	}
	if !within(c.Cost, 0, maxMoney) {
		return at("cost %g, want 0 to %g", c.Cost, float64(maxMoney))
	}
	if len(c.Labour) > 0 && (c.LabourAt < 0 || c.LabourAt > p.Weeks-len(c.Labour)) {
		return at("labour in weeks %d to %d, outside 0 to %d", c.LabourAt, c.LabourAt+len(c.Labour)-1, p.Weeks-1)
	}
	for k, tenths := range c.Labour {
		if tenths < 0 || tenths > maxLabour {
			return at("lab[%d] is %d tenths of a minute, want 0 to %d", k, tenths, maxLabour)
		}
	}
	t := c.Tray
	if t.From < 0 || t.To < t.From || t.To > p.Weeks || t.Hundredths < 0 || t.Hundredths > maxLabour {
		return at("tray [%d,%d,%d], want weeks within 0 to %d and 0 to %d hundredths",
			t.From, t.To, t.Hundredths, p.Weeks, maxLabour)
	}
	return p.checkYields(c.Yield, c.Start, c.End, at)
}

// checkYields wants a yield for every year, picked while the crop holds its strips.
func (p *Problem) checkYields(yields []Yield, from, to int, at func(string, ...any) error) error {
	if len(yields) != p.Years {
		return at("yields for %d years, want %d as S says", len(yields), p.Years)
	}
	for s, y := range yields {
		if len(y.Grams) == 0 {
			continue
		}
		if y.First < from || y.First > to-len(y.Grams) {
			return at("year %d: picked in weeks %d to %d, outside %d to %d",
				s, y.First, y.First+len(y.Grams)-1, from, to-1)
		}
		for k, g := range y.Grams {
			if g < 0 || g > maxGrams {
				return at("year %d, week %d: %d grams, want 0 to %d", s, y.First+k, g, maxGrams)
			}
		}
	}
	return nil
}

// within is false for NaN.
func within(x, low, high float64) bool { return x >= low && x <= high && !math.IsNaN(x) }
