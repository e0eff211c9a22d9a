package plan

import "fmt"

// Violation is one rule that a plan breaks. Planting is its index in the plan,
// or -1 when no single planting is to blame (indoor space, a candidate's most strips,
// a fixed planting that is missing).
type Violation struct {
	Planting int
	Rule     string // "index", "length", "bed", "sun", "kind", "ban", "family", "overlap", "tray", "max", "closed", "without", "fixed"
	Detail   string
}

func (v Violation) String() string {
	if v.Planting < 0 {
		return fmt.Sprintf("%s: %s", v.Rule, v.Detail)
	}
	return fmt.Sprintf("planting %d: %s: %s", v.Planting, v.Rule, v.Detail)
}

// Validate lists every broken rule of a plan; none means that it can be carried
// out. It knows only the rules, strip by strip and week by week, and shares no
// code with the search. p must have passed Check.
func Validate(p *Problem, plantings []Planting) []Violation {
	v := validator{p: p}
	for i, pl := range plantings {
		v.planting(i, pl)
	}
	if len(v.found) > 0 {
		return v.found // the ground cannot be walked with indices that lie outside it
	}
	for bed := range p.Beds {
		v.ground(bed, plantings)
	}
	v.space(plantings)
	v.most(plantings)
	v.settled(plantings)
	return v.found
}

type validator struct {
	p     *Problem
	found []Violation
}

func (v *validator) say(planting int, rule, format string, args ...any) {
	v.found = append(v.found, Violation{planting, rule, fmt.Sprintf(format, args...)})
}

// planting checks what one planting can be blamed for alone.
func (v *validator) planting(i int, pl Planting) {
	if pl.Cand < 0 || pl.Cand >= len(v.p.Cands) {
		v.say(i, "index", "there is no candidate %d", pl.Cand)
		return
	}
	if pl.Bed < 0 || pl.Bed >= len(v.p.Beds) {
		v.say(i, "index", "there is no bed %d", pl.Bed)
		return
	}
	bed, cand := v.p.Beds[pl.Bed], v.p.Cands[pl.Cand]
	crop := v.p.Crops[cand.Crop]
	if pl.Strips < 1 || pl.Strips < cand.MinStrips {
		v.say(i, "length", "%d strips, needs %d", pl.Strips, max(1, cand.MinStrips))
	}
	if pl.Strip < 0 || pl.Strips > bed.Len || pl.Strip+pl.Strips > bed.Len {
		v.say(i, "bed", "strips %d to %d of a bed of %d", pl.Strip, pl.Strip+pl.Strips-1, bed.Len)
	}
	if bed.SunHours < crop.SunHours {
		v.say(i, "sun", "bed has %g hours, crop needs %g", bed.SunHours, crop.SunHours)
	}
	if cand.Kinds != 0 && cand.Kinds&(1<<uint(bed.Kind)) == 0 {
		v.say(i, "kind", "candidate may not use beds of kind %d", bed.Kind)
	}
}

// ground walks one bed's strips: who stands when, and which families have been.
func (v *validator) ground(bed int, plantings []Planting) {
	const nobody, standing = -2, -1
	b := v.p.Beds[bed]
	taken := make([][]int, b.Len)
	family := make([]map[int]bool, b.Len)
	for j := range taken {
		taken[j] = make([]int, v.p.Weeks)
		for w := range taken[j] {
			taken[j][w] = nobody
		}
		family[j] = map[int]bool{}
	}
	for _, s := range b.Standing {
		for j := s.Strip; j < s.Strip+s.Strips; j++ {
			for w := 0; w < s.End; w++ {
				taken[j][w] = standing
			}
			if v.p.Crops[s.Crop].Rotate {
				family[j][v.p.Crops[s.Crop].Family] = true
			}
		}
	}
	for i, pl := range plantings {
		if pl.Bed != bed {
			continue
		}
		cand := v.p.Cands[pl.Cand]
		crop := v.p.Crops[cand.Crop]
		for j := pl.Strip; j < pl.Strip+pl.Strips; j++ {
			for w := cand.Start; w < cand.End; w++ {
				if taken[j][w] != nobody {
					v.say(i, "overlap", "bed %d strip %d week %d is taken", bed, j, w)
					break
				}
			}
			for w := cand.Start; w < cand.End; w++ {
				taken[j][w] = i
			}
			if !crop.Rotate {
				continue
			}
			if b.Ban[j]&(1<<uint(crop.Family)) != 0 {
				v.say(i, "ban", "bed %d strip %d may not carry family %d", bed, j, crop.Family)
			}
			if family[j][crop.Family] {
				v.say(i, "family", "bed %d strip %d carries family %d a second time", bed, j, crop.Family)
			}
			family[j][crop.Family] = true
		}
	}
}

// space adds up the indoor space of every week.
func (v *validator) space(plantings []Planting) {
	for w := range v.p.Weeks {
		hundredths := 0
		for _, pl := range plantings {
			t := v.p.Cands[pl.Cand].Tray
			if t.From <= w && w < t.To {
				hundredths += t.Hundredths * pl.Strips
			}
		}
		if room := v.p.trayRoom(w); float64(hundredths) > room*100+1e-6 {
			v.say(-1, "tray", "week %d needs %g tray units of %g", w, float64(hundredths)/100, room)
		}
	}
}

// most checks each candidate's limit over the whole plan.
func (v *validator) most(plantings []Planting) {
	strips := map[int]int{}
	for _, pl := range plantings {
		strips[pl.Cand] += pl.Strips
	}
	for cand, n := range strips {
		if most := v.p.Cands[cand].MaxStrips; most > 0 && n > most {
			v.say(-1, "max", "candidate %d has %d strips, at most %d", cand, n, most)
		}
	}
}

// settled checks what the grower has settled beforehand.
func (v *validator) settled(plantings []Planting) {
	there := map[Planting]bool{}
	for i, pl := range plantings {
		there[pl] = true
		cand := v.p.Cands[pl.Cand]
		for _, crop := range v.p.Without {
			if cand.Crop == crop {
				v.say(i, "without", "crop %d %q is ruled out", crop, v.p.Crops[crop].Name)
			}
		}
		for _, c := range v.p.Closed {
			if c.Bed == pl.Bed && c.Strip < pl.Strip+pl.Strips && pl.Strip < c.Strip+c.Strips && c.From < cand.End && cand.Start < c.To {
				v.say(i, "closed", "bed %d strips %d to %d are closed in weeks %d to %d", c.Bed, c.Strip, c.Strip+c.Strips-1, c.From, c.To-1)
			}
		}
	}
	for i, pl := range v.p.Fixed {
		if !there[pl] {
			v.say(-1, "fixed", "fixed planting %d is missing", i)
		}
	}
}
