package web

import (
	"haulm/internal/app"
	"haulm/internal/cropping"
)

// going is the plan's year as it goes on today; nil before the plan and after.
func (p *Pages) going() (*app.Going, error) {
	goes, err := p.basis()
	if err != nil {
		return nil, err
	}
	return p.goings.by(goes, func() (*app.Going, error) { return p.desk.Going(noDay) })
}

// againstPlan says how the weeks to come stand against the plan as it was made.
func againstPlan(planned, going *cropping.Year) string {
	was, is := 0.0, 0.0
	for w := going.Now; w < len(going.Table) && w < len(planned.Table); w++ {
		was += planned.Table[w].Portions.P50
		is += going.Table[w].Portions.P50
	}
	words := "From today a middling year brings " + count(is) + " portions"
	switch differ := is - was; {
	case differ >= 0.5:
		return words + ", " + count(differ) + " more than was planned."
	case differ <= -0.5:
		return words + ", " + count(-differ) + " fewer than was planned."
	}
	return words + ", as was planned."
}
