package climatology

import "math"

// predictor is something that the climatology says of a place in a month. They
// are centred so that 0 is a common value and of the order of 1, which keeps
// the regressions even.
type predictor func(p *place, m int) float64

// predictors by the names they have in data/coefficients.csv.
var predictors = map[string]predictor{
	"one": func(*place, int) float64 { return 1 },

	// The season.
	"range":       logRange,
	"tiny_range":  func(p *place, _ int) float64 { return math.Exp(-p.range_ / 8) },
	"phase":       (*place).phase,
	"phase2":      func(p *place, m int) float64 { return p.phase(m) * p.phase(m) },
	"turn":        (*place).turn,
	"turn2":       func(p *place, m int) float64 { return p.turn(m)*p.turn(m) - 0.4 },
	"phase.range": func(p *place, m int) float64 { return p.phase(m) * logRange(p, m) },
	"turn.range":  func(p *place, m int) float64 { return p.turn(m) * logRange(p, m) },

	// The month.
	"rise":       rise,
	"rise.phase": func(p *place, m int) float64 { return rise(p, m) * p.phase(m) },
	"humid":      func(p *place, m int) float64 { return p.year[humidity][m]/50 - 1.3 },
	"wind":       windiness,
	"wet":        func(p *place, m int) float64 { return p.year[wetDays][m]/15 - 0.7 },
	"sunny":      func(p *place, m int) float64 { return p.year[sunPercent][m]/50 - 1 },
	"frosty":     func(p *place, m int) float64 { return min(1.5, max(-1, -p.year[tmin][m]/10)) },
	"warm":       func(p *place, m int) float64 { return min(1.5, max(-1, p.mean[m]/10-1)) },

	// The air around.
	"gradient": func(p *place, m int) float64 { return math.Hypot(p.east[m], p.pole[m])/10 - 1 },
	"eastward": func(p *place, m int) float64 { return p.east[m] / 10 },
	"poleward": func(p *place, m int) float64 { return -p.pole[m]/10 - 1 },
	"colder":   func(p *place, m int) float64 { return p.colder[m]/5 - 1 },
	"warmer":   func(p *place, m int) float64 { return p.warmer[m]/5 - 1 },

	// Where it lies.
	"latitude":       func(p *place, _ int) float64 { return math.Abs(p.site.LatDeg)/40 - 1 },
	"south":          func(p *place, _ int) float64 { return 1 - northness(p.site.LatDeg) },
	"height":         heightKM1,
	"valley":         valley,
	"drop":           drop,
	"drop.phase":     func(p *place, m int) float64 { return drop(p, m) * p.phase(m) },
	"drop.rise":      func(p *place, m int) float64 { return drop(p, m) * rise(p, m) },
	"hollow":         func(p *place, _ int) float64 { return bound(p.land.hollowKM, 1) },
	"rough":          rough,
	"rough.phase":    func(p *place, m int) float64 { return (3*rough(p, m) - 0.5) * p.phase(m) },
	"valley.rise":    func(p *place, m int) float64 { return valley(p, m) * rise(p, m) },
	"rough.rise":     func(p *place, m int) float64 { return rough(p, m) * rise(p, m) },
	"knoll":          func(p *place, _ int) float64 { return 5 * p.near.knollKM },
	"town":           town,
	"town.phase":     func(p *place, m int) float64 { return town(p, m) * p.phase(m) },
	"shore":          func(p *place, _ int) float64 { return p.land.shore },
	"coast":          func(p *place, _ int) float64 { return p.land.coast },
	"sea_west":       seaWest,
	"sea_east":       seaEast,
	"sea_poleward":   seaPole,
	"sea_west.phase": func(p *place, m int) float64 { return seaWest(p, m) * p.phase(m) },
	"sea_east.phase": func(p *place, m int) float64 { return seaEast(p, m) * p.phase(m) },
	"sea_pole.phase": func(p *place, m int) float64 { return seaPole(p, m) * p.phase(m) },
	"sea_west.turn":  func(p *place, m int) float64 { return seaWest(p, m) * p.turn(m) },
	"gradient.phase": func(p *place, m int) float64 { return (math.Hypot(p.east[m], p.pole[m])/10 - 1) * p.phase(m) },
	"latitude.phase": func(p *place, m int) float64 { return (math.Abs(p.site.LatDeg)/40 - 1) * p.phase(m) },
	"coast.phase":    func(p *place, m int) float64 { return p.land.coast * p.phase(m) },
	"height.phase":   func(p *place, m int) float64 { return heightKM1(p, m) * p.phase(m) },
	"eastward.phase": func(p *place, m int) float64 { return p.east[m] / 10 * p.phase(m) },
}

func logRange(p *place, _ int) float64  { return math.Log(p.range_+4) - 3 }
func rise(p *place, m int) float64      { return p.rise(m)/10 - 1 }
func windiness(p *place, m int) float64 { return bound(p.year[wind10][m]/3-1, 1) }
func heightKM1(p *place, _ int) float64 { return min(4, p.site.ElevM/1000) - 0.3 }
func valley(p *place, _ int) float64    { return bound(p.land.valleyKM, 1) }
func rough(p *place, _ int) float64     { return min(1, p.land.roughKM) }

// town is how warm the people around keep the night: by Oke (1973, Atmospheric
// Environment 7) it falls with the square root of the wind.
func town(p *place, m int) float64 {
	return p.near.town/2*math.Sqrt(3/max(1, p.year[wind10][m])) - 0.6
}

func seaWest(p *place, _ int) float64 { return p.land.west - 0.4 }
func seaEast(p *place, _ int) float64 { return p.land.east - 0.4 }
func seaPole(p *place, _ int) float64 { return p.land.poleward - 0.4 }

func drop(p *place, _ int) float64 { return bound(p.basis.HeightDropM/1000, 1) }

func bound(x, most float64) float64 { return min(most, max(-most, x)) }
