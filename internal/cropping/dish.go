package cropping

import (
	"haulm/internal/crop"
	"haulm/internal/kitchen"
	"haulm/internal/plan"
)

// dishNumbers is a dish as the planner sees it. Its family is the rotation
// group of the crops that make it, and it rotates when at least half of them
// must.
func (l *Lay) dishNumbers(dish kitchen.Dish) plan.Crop {
	d := plan.Crop{Name: dish.Name, Keep: dish.WeeklyKeep}
	for _, tier := range dish.Tiers {
		d.TierKg = append(d.TierKg, tier.KgPerWeek)
		d.TierVal = append(d.TierVal, tier.ValuePerKg)
	}
	rotating := 0
	for i, cr := range dish.Crops {
		if i == 0 || cr.SunHours < d.SunHours {
			d.SunHours = cr.SunHours
		}
		d.Tall = d.Tall || cr.Tall
		if rotates(cr) {
			rotating++
		}
	}
	d.Family = l.groups.bit(dish.Crops[0].RotationGroup)
	d.Rotate = 2*rotating >= len(dish.Crops)
	return d
}

// rotates says whether the crop's group must not come back within the plan.
// Salads, quick roots and the like, with an interval under three years, may
// (common practice).
func rotates(cr *crop.Crop) bool { return cr.RotationYears >= leastRotationYears }

const leastRotationYears = 3
