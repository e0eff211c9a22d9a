package grow

import (
	"math"

	"haulm/internal/soil"
)

// drinking is a rain-fed planting on its way through the days: the balance of
// thirst.drink, day after day, with what was wanted taken from running totals
// and only what was missed counted on the way.
type drinking struct {
	*Track
	phases            [4]phase
	now               int // phase
	outside, critical int // critical: day from which the stage that minds most runs

	day        int
	dryMM      float64
	missed     float64 // mm, so far
	atCritical float64 // … when that stage began
	mondays    [mondaysKept]float64
	monday     int  // the next
	wilted     int  // days on end
	died       int  // day on which it was given up; 0 while it lives
	lifted     bool // dried up, and lifted for what there was: it drinks no more
	worst      float64
	worstDay   int // day of the least share of its need since the critical stage began
}

// mondaysKept reaches further back than the widest window that the catalogue's
// schema allows.
const mondaysKept = 16

// startDrinking is the planting on its first day out, watered in where it
// stands in a pot.
func (r *run) startDrinking(end int) {
	d, t := &r.drinking, &r.recipe.thirst
	d.Track, d.outside, d.day = r.Track, r.outside, r.outside
	d.phases = t.phases(timing{r.outside, r.first, end})
	d.worst, d.worstDay = 1, r.first
	if !t.potted {
		d.dryMM = math.Min(r.air.fallowMM[r.outside], t.seedlingMM)
	}
	d.critical = max(r.outside, min(r.doneBy(t.criticalFrom), r.first))
	seen := max(d.critical, r.first-int(r.climate.rules.DroughtWindowDays))
	d.monday = int(r.climate.date(seen+6).Monday() - r.climate.start)
}

// onMonday is the place of the sum of a Monday's morning.
func (d *drinking) onMonday(day int) *float64 { return &d.mondays[day/7%mondaysKept] }

// to carries it to the morning of a day, and says whether it lives.
func (d *drinking) to(until int) bool {
	for d.day < until && d.died == 0 && !d.lifted {
		for d.day >= d.phases[d.now].until {
			d.now++
		}
		stop := min(until, d.phases[d.now].until)
		if d.day < d.critical {
			stop = min(stop, d.critical)
		} else if d.day == d.critical {
			d.atCritical = d.missed
		}
		if d.day == d.monday {
			*d.onMonday(d.day) = d.missed
			d.monday += 7
		}
		if d.day < d.monday {
			stop = min(stop, d.monday)
		}
		d.through(stop)
	}
	return d.died == 0
}

// perish ends its drinking where it dried up, short of the day on which it
// would have been ripe.
func (d *drinking) perish(ripe int) {
	if d.day <= d.critical {
		d.atCritical = d.missed + d.wanted(d.day, d.critical)
	}
	d.missed += d.wanted(d.day, ripe+1)
	d.day, d.died, d.lifted = ripe+1, 0, true
}

// through carries it over days of one phase. Days on which even the thirstiest
// stand would lack nothing are leapt over, as far as the ground is full again at
// their end.
func (d *drinking) through(until int) {
	t, p := &d.recipe.thirst, &d.phases[d.now]
	if calm := d.wet.calm[min(d.now/2, 1)]; d.dryMM <= d.wet.deficitMM[d.day] {
		if full := int(d.wet.full[min(until, int(calm[d.day]))]); full > d.day {
			d.day, d.dryMM, d.wilted = full, 0, 0
		}
	}
	reference, rain := d.air.referenceMM[:until], d.air.rainMM[:until]
	dry := d.dryMM
	for day := d.day; day < until; day++ {
		kc, total := p.on(float64(day - d.outside))
		drawn, wanted, after := t.drink(dry, kc, total, reference[day], rain[day]*t.rainShare)
		dry = after
		if drawn >= wanted {
			d.wilted = 0
		} else if d.suffer(day, drawn, wanted); d.died > 0 {
			d.day = day + 1
			return
		}
	}
	d.dryMM, d.day = dry, until
}

// suffer notes what a dry day does.
func (d *drinking) suffer(day int, drawn, wanted float64) {
	rules := &d.climate.rules
	d.missed += wanted - drawn
	share := drawn / wanted
	if share < d.worst && day >= d.critical {
		d.worst, d.worstDay = share, day
	}
	if share >= rules.DryShare {
		d.wilted = 0
	} else if d.wilted++; d.wilted >= int(rules.DryDeadDays) {
		d.died = day + 1
	}
}

// share is what drought leaves of the picking of the week that begins on
// monday, the planting having come to the end of it: for what is taken once, of
// the whole crop.
func (d *drinking) share(monday int) float64 {
	t := &d.recipe.thirst
	from, before := d.critical, d.atCritical
	if week := monday - int(d.climate.rules.DroughtWindowDays) + 7; !t.once && !d.lifted && week > d.critical {
		from, before = week, *d.onMonday(week)
	}
	return t.droughtShare(d.missed, d.wanted(d.outside, d.day), d.missed-before, d.wanted(from, d.day))
}

// wanted is what full ground would have given over some days, mm.
func (d *drinking) wanted(from, to int) float64 {
	total := 0.0
	for i := range d.phases {
		p := &d.phases[i]
		if until := min(to, p.until); from < until {
			plain := d.air.sum[until] - d.air.sum[from]
			total += p.kc*plain + p.kcSlope*(d.air.dated[until]-d.air.dated[from]-float64(d.outside)*plain)
			from = until
		}
	}
	return total
}

// drought carries the planting through the week that begins on monday, up to
// day b, and says what is left of its picking.
func (d *drinking) drought(monday, b int) float64 {
	if !d.recipe.thirst.once {
		d.to(b)
	}
	return d.share(monday)
}

// kind is the drought's name.
func (d *drinking) kind() MishapKind {
	if d.recipe.thirst.flowers {
		return FlowersDropped
	}
	return DroughtChecked
}

// wet tells when a crop cannot be short of water: by the deficit of a stand that
// draws at its thirstiest all year and is never checked. No planting of the crop
// is drier than that once it has been no drier.
type wet struct {
	deficitMM []float64
	full      []int32 // by morning: the last, up to and with it, on which that stand found the ground full
	calm      [2]next // the next morning on which it lies drier than a young plant, and than a full-grown one, can stand unchecked
}

type wetKey struct {
	kc, rainShare, youngMM, fullMM float64
	air                            airKey
}

// wetFor is made once for all crops of like thirst.
func (c *Climate) wetFor(t *thirst, ground Ground) wet {
	most := max(t.kcIni, t.kcMid, t.kcEnd)
	a := c.airFor(ground)
	share := 1.0
	if !t.potted {
		share = soil.DepletionShare(t.depletion, most*a.mostMM)
	}
	key := wetKey{most, t.rainShare, share * t.seedlingMM, share * t.fullMM, airKey{ground.texture().Name, ground.Cover.Key}}
	return cached(&c.tables.mu, c.tables.wet, key, func() wet {
		n := len(a.rainMM)
		w := wet{deficitMM: make([]float64, n+1), full: make([]int32, n+1)}
		for i := range n {
			w.deficitMM[i+1] = max(0, w.deficitMM[i]+most*a.referenceMM[i]-a.rainMM[i]*t.rainShare)
			w.full[i+1] = w.full[i]
			if w.deficitMM[i+1] == 0 {
				w.full[i+1] = int32(i + 1)
			}
		}
		for k, limit := range []float64{key.youngMM, key.fullMM} {
			w.calm[k] = nextWhere(n, func(i int) bool { return w.deficitMM[i] > limit })
		}
		return w
	})
}
