package cropping

import "haulm/internal/plan"

// layBegun keeps for the plan's begun plantings what they will hold of ground,
// rotation and room indoors when the plan is told again with them, so that what
// is found beside them still fits then. Given is no measure of that: its rows end
// before the last of its strips does, and its plants may go out sooner.
func (l *Lay) layBegun() {
	if l.question.Only {
		return
	}
	l.Problem.TrayTaken = make([]int, l.rules.weeks())
	for _, s := range l.question.Begun {
		at, why := l.groundOf(s)
		if why != "" {
			continue // nor will it be found when the plan is told again
		}
		cr, why := l.cropOf(s, at.Bed)
		if why != "" {
			continue
		}
		if c, why := l.growSaved(s, cr, l.beds[at.Bed].numbers.Kind); why == "" {
			l.hold(at, &c.numbers)
		}
	}
	l.Problem.Closed = l.closed
}

// hold keeps what one planting holds from anything else.
func (l *Lay) hold(at plan.Planting, c *plan.Candidate) {
	if from := max(l.now, c.Start); from < c.End {
		l.closed = append(l.closed, plan.Closure{Bed: at.Bed, Strip: at.Strip, Strips: at.Strips, From: from, To: c.End})
	}
	if dish := &l.Problem.Crops[c.Crop]; dish.Rotate {
		ban := l.Problem.Beds[at.Bed].Ban
		for strip := at.Strip; strip < at.Strip+at.Strips; strip++ {
			ban[strip] |= 1 << dish.Family
		}
	}
	for week := c.Tray.From; week < c.Tray.To; week++ {
		l.Problem.TrayTaken[week] += c.Tray.Hundredths * at.Strips
	}
}
