package plan

import "math"

// splitter grows a crop's tree (see Whole) at given duals: always the leaf that
// bounds worst is split.
type splitter struct {
	*counter
	years  []float64
	dict   *dictionary
	planes []plane
	points [][]Part
	limits []Limit // as far as known
	known  []bool  // whose limits are
	top    *branch
	open   []*branch // leaves, the worst last
	start  float64   // what the table could gain by buying at the duals' prices
	root   float64   // the most before any split
	value  float64   // the most over all leaves
	spent  float64   // what it has cost, in numbers touched
	strips []float64 // of the programme's answer
	cost   []float64
}

// branch is a node under way.
type branch struct {
	up          *branch
	more        bool // of up's two parts, the one with more strips
	place, most int  // how it is split, or would be; place -1 = all is whole already
	left, right *branch
	mix         []Weight
	bound       float64
}

// How many planes are sought for the whole crop and for a part (1, 2 and 4 were tried on
// one problem: little between them), and how many are kept at most.
const (
	rootRounds = 40
	partRounds = 2
	mostPlanes = 700
)

func newSplitter(b *bounder, crop int, weeks span, d *Duals) *splitter {
	k := newCounter(b, crop, weeks)
	n := len(k.cands)
	s := &splitter{counter: k, years: d.Years, dict: newDictionary(n), strips: make([]float64, n), cost: make([]float64, n), known: make([]bool, n)}
	s.plant(s.own(d))
	s.top = &branch{mix: []Weight{{0, 1}}}
	s.solve(s.top, rootRounds)
	s.start, s.open = s.planes[0].base, []*branch{s.top}
	s.measure()
	s.root = s.value
	return s
}

func (s *splitter) plant(p plane) {
	s.planes = append(s.planes, p)
	s.dict.add(&p)
}

// box sets low and high to a branch's; false if no plantings are in it.
func (s *splitter) box(b *branch) bool {
	clear(s.low)
	copy(s.high, s.most)
	for ; b.up != nil; b = b.up {
		if j := b.up.place; b.more {
			s.low[j] = max(s.low[j], b.up.most+1)
		} else {
			s.high[j] = min(s.high[j], b.up.most)
		}
	}
	for j, least := range s.least {
		if s.low[j] > 0 {
			s.low[j] = max(s.low[j], least)
		}
		if s.high[j] < least {
			s.high[j] = 0
		}
		if s.low[j] > s.high[j] {
			return false
		}
	}
	return true
}

// solve bounds a branch over its box and finds where to split it.
func (s *splitter) solve(b *branch, rounds int) {
	b.place = -1
	if !s.box(b) {
		b.bound = math.Inf(-1)
		return
	}
	for j := range s.cands {
		s.pose(j)
	}
	b.bound = s.leaf(b.mix, s.planes)
	for {
		pivots, ok := s.dict.solve(s.cost)
		s.spent += float64((2*pivots + 3) * len(s.planes) * len(s.cands))
		if mix := s.dict.mix(); len(mix) > 0 {
			if v := s.leaf(mix, s.planes); v < b.bound {
				b.bound, b.mix = v, mix
			}
		}
		s.dict.strips(s.strips)
		if s.narrow() {
			b.bound = min(b.bound, s.leaf(b.mix, s.planes))
			continue
		}
		if rounds--; rounds < 0 || !ok || !s.look(b) {
			break
		}
	}
	s.choose(b)
}

// pose sets a candidate's bounds and cost for the programme.
func (s *splitter) pose(j int) {
	s.dict.low[j], s.dict.high[j] = float64(s.low[j]), float64(s.high[j])
	s.cost[j] = -s.rent[j] * (1 + 1e-5*float64(j*7919%101)/101) // a hair apart, against ties
	if s.low[j] == 0 && s.high[j] > 0 {
		s.cost[j] -= s.setup[j] / float64(s.high[j]) // no more than the setup, however many
	}
}

// narrow finds the limits of candidates that the programme's answer has for the first
// time, and says whether any has too much room. Without setups the planes see as much.
func (s *splitter) narrow() bool {
	found := false
	for j, n := range s.strips {
		if n < 1e-9 || s.known[j] || s.setup[j] == 0 {
			continue
		}
		s.known[j] = true
		most, looks := s.limit(s.years, j)
		s.spent += float64(looks * len(s.prices) * 20)
		if most >= s.most[j] {
			continue
		}
		s.limits = append(s.limits, Limit{s.cands[j], most})
		s.most[j] = most
		if most < s.high[j] && s.low[j] <= most {
			s.high[j] = most
			s.pose(j)
			found = true
		}
	}
	return found
}

// look adds the plane at the programme's answer; false if it tells nothing new.
func (s *splitter) look(b *branch) bool {
	if len(s.planes) >= mostPlanes {
		return false
	}
	var point []Part
	for j, n := range s.strips {
		// Short fractions, so that whoever reads them gets the same grams.
		if n = math.Round(n*64) / 64; n > 0 {
			point = append(point, Part{s.cands[j], n})
		}
	}
	pl := s.at(s.years, point)
	s.spent += float64(len(s.prices) * 20)
	for _, i := range s.cands {
		s.spent += float64(len(s.b.shared.yields[i].grams))
	}
	over := s.dict.level() - pl.base
	for j, n := range s.strips {
		over -= pl.slope[j] * n
	}
	if over < 1e-4*math.Abs(b.bound)+1e-7 {
		return false
	}
	s.points = append(s.points, point)
	s.plant(pl)
	return true
}

// choose finds the strips farthest from being whole plantings with their setup paid, by
// what they pay.
func (s *splitter) choose(b *branch) {
	most := 1e-6
	for j, n := range s.strips {
		if s.low[j] == s.high[j] {
			continue
		}
		cut, off := int(n), min(n-math.Floor(n), math.Ceil(n)-n)
		if least := float64(s.least[j]); s.low[j] == 0 && n < least {
			cut, off = 0, min(n, least-n)
		}
		score := off * math.Abs(s.rent[j])
		if s.low[j] == 0 && n > 1e-6 {
			score = max(score, s.setup[j]*(1-n/float64(s.high[j])))
		}
		if score > most {
			most, b.place, b.most = score, j, min(cut, s.high[j]-1)
		}
	}
}

// measure finds the worst leaf and puts it last.
func (s *splitter) measure() {
	at := 0
	for i, b := range s.open {
		if b.bound > s.open[at].bound {
			at = i
		}
	}
	last := len(s.open) - 1
	s.open[at], s.open[last] = s.open[last], s.open[at]
	s.value = s.open[last].bound
}

// ended says that the worst leaf cannot be split: its strips are whole.
func (s *splitter) ended() bool { return s.open[len(s.open)-1].place < 0 }

// split splits the worst leaf.
func (s *splitter) split() {
	b := s.open[len(s.open)-1]
	b.left, b.right = &branch{up: b, mix: b.mix}, &branch{up: b, more: true, mix: b.mix}
	s.solve(b.left, partRounds)
	s.solve(b.right, partRounds)
	s.open = append(s.open[:len(s.open)-1], b.left, b.right)
	s.measure()
}

// tree writes what has grown, with the points that its leaves use.
func (s *splitter) tree() Whole {
	w := Whole{From: s.weeks.from, To: s.weeks.to, Limits: s.limits}
	number := map[int]int{0: 0}
	var write func(b *branch)
	write = func(b *branch) {
		if b.left != nil {
			w.Nodes = append(w.Nodes, Node{Cand: s.cands[b.place], Most: b.most})
			write(b.left)
			write(b.right)
			return
		}
		var n Node
		for _, m := range b.mix {
			if _, known := number[m.Plane]; !known {
				w.Points = append(w.Points, s.points[m.Plane-1])
				number[m.Plane] = len(w.Points)
			}
			n.Mix = append(n.Mix, Weight{number[m.Plane], m.Share})
		}
		w.Nodes = append(w.Nodes, n)
	}
	write(s.top)
	return w
}
