package grow

import (
	"sync"

	"haulm/internal/crop"
)

// The tables turn "when will the sum reach x" and "when does it next happen"
// into a search or a look-up. Each is made once per climate, cover and
// threshold, and read by every course.

// sums is a running total: sums[i] is the total of the days before i.
type sums []float64

// reach is the first index t >= from at which the total since from is at
// least want, or past the end of the table when it never is.
func (s sums) reach(from int, want float64) int {
	last := len(s) - 1
	goal := s[from] + want - hair
	if want <= 0 {
		return from
	}
	if s[last] < goal {
		return last + 1
	}
	low, step := from, 16
	for low+step < last && s[low+step] < goal {
		low += step
		step *= 2
	}
	high := min(low+step, last)
	for low+1 < high {
		mid := int(uint(low+high) / 2)
		if s[mid] < goal {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// next is a look-up of coming events: next[i] is the first day at or after i
// on which it happens, or the number of days when it does not again.
type next []int32

func nextWhere(days int, happens func(i int) bool) next {
	table := make(next, days+1)
	table[days] = int32(days)
	for i := days - 1; i >= 0; i-- {
		table[i] = table[i+1]
		if happens(i) {
			table[i] = int32(i)
		}
	}
	return table
}

func sumOf(days int, amount func(i int) float64) sums {
	table := make(sums, days+1)
	for i := range days {
		table[i+1] = table[i] + amount(i)
	}
	return table
}

// hair is the thermal time by which a sum may fall short of its goal from
// rounding alone: temperatures come in tenths, so sums often meet it exactly.
const hair = 1e-9

type (
	heatKey struct {
		baseC, plateauC, hotC, damageC float64
		rootsC                         float64 // by how much a pot's roots are warmer than the air in heat
		cover                          string
	}
	soilKey struct {
		baseC, capC float64
		cover       string
	}
	frostKey struct {
		killC, winterKillC float64
		cover              string
	}
	paceKey struct {
		heat     heatKey
		standing float64
	}
	chillKey struct {
		minC, maxC, resetC float64
		cover              string
	}
	setKey struct {
		maxC, minC float64
		cover      string
	}
	hotKey struct {
		meanC float64
		days  int
		cover string
	}
	airKey   struct{ texture, cover string }
	levelKey struct {
		level float64
		cover string
	}
)

// tableCache keeps what has been made, by what it was made for.
type tableCache struct {
	mu      sync.Mutex
	heat    map[heatKey]sums
	soil    map[soilKey]sums
	rot     map[levelKey]sums
	frost   map[frostKey]next
	pace    map[paceKey]sums
	chill   map[chillKey][]int8
	set     map[setKey]sums
	hot     map[hotKey]next
	longer  map[float64]next
	shorter map[float64]next
	mild    map[levelKey]next
	air     map[airKey]air
	wet     map[wetKey]wet
	cool    map[levelKey]sums
}

func newTableCache() *tableCache {
	return &tableCache{
		heat: map[heatKey]sums{}, soil: map[soilKey]sums{}, rot: map[levelKey]sums{},
		frost: map[frostKey]next{}, pace: map[paceKey]sums{}, chill: map[chillKey][]int8{},
		set: map[setKey]sums{}, hot: map[hotKey]next{}, longer: map[float64]next{}, shorter: map[float64]next{},
		mild: map[levelKey]next{}, air: map[airKey]air{}, wet: map[wetKey]wet{}, cool: map[levelKey]sums{},
	}
}

func cached[K comparable, V any](mu *sync.Mutex, cache map[K]V, key K, build func() V) V {
	mu.Lock()
	defer mu.Unlock()
	if table, ok := cache[key]; ok {
		return table
	}
	table := build()
	cache[key] = table
	return table
}

func (c *Climate) heatTable(key heatKey, cover crop.Cover) sums {
	return cached(&c.tables.mu, c.tables.heat, key, func() sums {
		return sumOf(len(c.minC), func(i int) float64 { return c.heatOn(i, key, cover) })
	})
}

func (c *Climate) soilTable(key soilKey, cover crop.Cover) sums {
	return cached(&c.tables.mu, c.tables.soil, key, func() sums {
		return sumOf(len(c.minC), func(i int) float64 { return c.soilHeatOn(i, key, cover) })
	})
}

func (c *Climate) rotTable(belowC float64, cover crop.Cover) sums {
	return cached(&c.tables.mu, c.tables.rot, levelKey{belowC, cover.Key}, func() sums {
		return sumOf(len(c.minC), func(i int) float64 { return count(c.soilUnder(i, cover) < belowC) })
	})
}

func (c *Climate) frostTable(key frostKey, cover crop.Cover) next {
	return cached(&c.tables.mu, c.tables.frost, key, func() next {
		return nextWhere(len(c.minC), func(i int) bool { return c.kills(i, key, cover) })
	})
}

func (c *Climate) paceTable(key paceKey, cover crop.Cover) sums {
	return cached(&c.tables.mu, c.tables.pace, key, func() sums {
		return sumOf(len(c.minC), func(i int) float64 { return c.paceOn(i, key, cover) })
	})
}

func (c *Climate) chillTable(key chillKey, cover crop.Cover) []int8 {
	return cached(&c.tables.mu, c.tables.chill, key, func() []int8 {
		table := make([]int8, len(c.minC))
		for i := range table {
			table[i] = c.chillOn(i, key, cover)
		}
		return table
	})
}

func (c *Climate) setTable(key setKey, cover crop.Cover) sums {
	return cached(&c.tables.mu, c.tables.set, key, func() sums {
		return sumOf(len(c.minC), func(i int) float64 { return c.setOn(i, key, cover) })
	})
}

// hotTable looks up the next morning that follows lasting heat.
func (c *Climate) hotTable(key hotKey, cover crop.Cover) next {
	return cached(&c.tables.mu, c.tables.hot, key, func() next {
		return nextWhere(len(c.minC), func(i int) bool { return c.lastingHeat(i, key.meanC, key.days, cover) })
	})
}

// longDays looks up the next day longer than hours.
func (c *Climate) longDays(hours float64) next {
	return cached(&c.tables.mu, c.tables.longer, hours, func() next {
		return nextWhere(len(c.dayH), func(i int) bool { return c.dayH[i] > hours })
	})
}

// shortDays looks up the next day shorter than hours.
func (c *Climate) shortDays(hours float64) next {
	return cached(&c.tables.mu, c.tables.shorter, hours, func() next {
		return nextWhere(len(c.dayH), func(i int) bool { return c.dayH[i] < hours })
	})
}

// coolTable counts the days on which a resting plant feels winter.
func (c *Climate) coolTable(belowC float64, cover crop.Cover) sums {
	return cached(&c.tables.mu, c.tables.cool, levelKey{belowC, cover.Key}, func() sums {
		return sumOf(len(c.minC), func(i int) float64 { return count(c.coolOn(i, belowC, cover)) })
	})
}

func count(happens bool) float64 {
	if happens {
		return 1
	}
	return 0
}

// mildTable looks up the next day that follows a mild week.
func (c *Climate) mildTable(aboveC float64, cover crop.Cover) next {
	return cached(&c.tables.mu, c.tables.mild, levelKey{aboveC, cover.Key}, func() next {
		return nextWhere(len(c.minC), func(i int) bool { return c.nightsMild(i, aboveC, cover) })
	})
}
