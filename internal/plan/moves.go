package plan

import "math"

// pick chooses a planting, those on more ground more often; false if it hit bare ground.
func (s *searcher) pick() (Planting, bool) {
	at := s.rng.IntN(s.strips)
	bed := s.stripBed[at]
	if len(s.beds[bed]) == 0 {
		return Planting{}, false
	}
	return s.beds[bed][s.rng.IntN(len(s.beds[bed]))], true
}

// some is a number of strips to move at once, as often 1 as 2 to 3 or 4 to 7: most
// plantings want a strip more or less, some another place for the whole of them.
func (s *searcher) some() int { return int(math.Pow(manyStrips, s.rng.Float64())) }

const manyStrips = 10

// recast clears a piece of ground and plants it anew.
func (s *searcher) recast() bool {
	at := s.rng.IntN(s.strips)
	bed := s.stripBed[at]
	strip := at - s.base[bed]
	win := window{bed, strip, min(s.some(), s.p.Beds[bed].Len-strip), 0, s.p.Weeks}
	if s.rng.IntN(3) > 0 {
		win.from = s.rng.IntN(s.p.Weeks)
		win.to = min(s.p.Weeks, win.from+4+s.rng.IntN(40))
	}
	win.from, win.to = s.clear(win)
	s.fill(win, 0.3)
	return true
}

// insert forces a candidate onto the ground and plants what it leaves.
func (s *searcher) insert() bool {
	at := s.rng.IntN(s.strips)
	bed := s.stripBed[at]
	steps := s.steps[bed]
	if len(steps) == 0 {
		return false
	}
	st := &steps[s.rng.IntN(len(steps))]
	// The best scored of a few, or of one: scores know nothing of overtime to come or of
	// ground that does not fit, and what they overrate must not keep the rest out.
	for range s.rng.IntN(7) {
		other := &steps[s.rng.IntN(len(steps))]
		if s.scoreOf(other.cand)/float64(other.end-other.start) > s.scoreOf(st.cand)/float64(st.end-st.start) {
			st = other
		}
	}
	n := st.least + s.rng.IntN(3)
	strip := at - s.base[bed]
	return s.force(Planting{st.cand, bed, strip, n})
}

// force clears a planting's place, plants it and fills around it.
func (s *searcher) force(pl Planting) bool {
	c := &s.p.Cands[pl.Cand]
	if pl.Strip < 0 || pl.Strip+pl.Strips > s.p.Beds[pl.Bed].Len {
		return false
	}
	win := window{pl.Bed, pl.Strip, pl.Strips, c.Start, c.End}
	win.from, win.to = s.clear(win)
	if !s.fits(pl) {
		if !s.evictFamily(pl, &win) || !s.fits(pl) {
			return false
		}
	}
	s.put(pl)
	s.fill(win, 0.2)
	return true
}

// evictFamily clears what bars a planting by its family elsewhen on its strips.
func (s *searcher) evictFamily(pl Planting, win *window) bool {
	f := s.family(pl.Cand)
	if f == 0 {
		return false
	}
	end := pl.Strip + pl.Strips
	for i := len(s.beds[pl.Bed]) - 1; i >= 0; i-- {
		q := s.beds[pl.Bed][i]
		if q.Strip >= end || q.Strip+q.Strips <= pl.Strip || s.family(q.Cand) != f {
			continue
		}
		c := &s.p.Cands[q.Cand]
		from, to := s.clear(window{pl.Bed, pl.Strip, pl.Strips, c.Start, c.End})
		win.from, win.to = min(win.from, from), max(win.to, to)
		i = min(i, len(s.beds[pl.Bed]))
	}
	return true
}

// grow lengthens a planting over its neighbours.
func (s *searcher) grow() bool {
	pl, ok := s.pick()
	if !ok {
		return false
	}
	c := &s.p.Cands[pl.Cand]
	n := s.some()
	win := window{pl.Bed, pl.Strip + pl.Strips, n, c.Start, c.End}
	longer := Planting{pl.Cand, pl.Bed, pl.Strip, pl.Strips + n}
	if s.rng.IntN(2) == 0 {
		win.strip = pl.Strip - n
		longer.Strip -= n
	}
	if win.strip < 0 || win.strip+n > s.p.Beds[pl.Bed].Len {
		return false
	}
	s.lift(pl.Bed, s.find(pl))
	win.from, win.to = s.clear(win)
	if !s.fits(longer) {
		side := Planting{pl.Cand, pl.Bed, win.strip, n}
		if !s.evictFamily(side, &win) || !s.fits(longer) {
			return false
		}
	}
	s.put(longer)
	s.fill(win, 0.2)
	return true
}

// shrink shortens a planting and plants what it leaves.
func (s *searcher) shrink() bool {
	pl, ok := s.pick()
	if !ok {
		return false
	}
	c := &s.p.Cands[pl.Cand]
	n := min(s.some(), pl.Strips)
	win := window{pl.Bed, pl.Strip, n, c.Start, c.End}
	if s.rng.IntN(2) == 0 {
		win.strip = pl.Strip + pl.Strips - n
	}
	s.clear(win)
	if s.rng.IntN(8) == 0 {
		return true // bare ground may be better, most of all where plantings cost
	}
	win.from, win.to = s.widen(win)
	s.fill(win, 0.3)
	return true
}

// widen reaches out to the free weeks before and after a window.
func (s *searcher) widen(win window) (from, to int) {
	busy, _ := s.busy(win)
	from, to = win.from, win.to
	for from > 0 && busy[(from-1)>>6]>>((from-1)&63)&1 == 0 {
		from--
	}
	for to < s.p.Weeks && busy[to>>6]>>(to&63)&1 == 0 {
		to++
	}
	return from, to
}

// shift moves a planting in time: same crop, another route or week.
func (s *searcher) shift() bool {
	pl, ok := s.pick()
	if !ok {
		return false
	}
	same := s.shared.byCrop[s.p.Cands[pl.Cand].Crop]
	other := same[s.rng.IntN(len(same))]
	if other == pl.Cand {
		return false
	}
	return s.swapCand(pl, other)
}

// replace gives a planting's place to another crop of about the same weeks.
func (s *searcher) replace() bool {
	pl, ok := s.pick()
	if !ok {
		return false
	}
	steps := s.steps[pl.Bed]
	c := &s.p.Cands[pl.Cand]
	best := -1
	looks := 12
	if s.rng.IntN(4) == 0 {
		looks = 1 + s.rng.IntN(3) // as in insert
	}
	for range looks {
		st := &steps[s.rng.IntN(len(steps))]
		if st.start >= c.Start-3 && st.end <= c.End+3 && st.cand != pl.Cand && (best < 0 || s.scoreOf(st.cand) > s.scoreOf(best)) {
			best = st.cand
		}
	}
	if best < 0 {
		return false
	}
	return s.swapCand(pl, best)
}

func (s *searcher) swapCand(pl Planting, cand int) bool {
	c := &s.p.Cands[pl.Cand]
	s.lift(pl.Bed, s.find(pl))
	if !s.force(Planting{cand, pl.Bed, pl.Strip, pl.Strips}) {
		return false
	}
	win := window{pl.Bed, pl.Strip, pl.Strips, c.Start, c.End}
	win.from, win.to = s.widen(win)
	s.fill(win, 0.2)
	return true
}

// swap gives two plantings each other's place, and what they leave to others.
func (s *searcher) swap() bool {
	a, ok := s.pick()
	if !ok {
		return false
	}
	b, ok := s.pick()
	if !ok || a.Cand == b.Cand || a.Bed == b.Bed && a.Strip == b.Strip {
		return false
	}
	c, d := &s.p.Cands[a.Cand], &s.p.Cands[b.Cand]
	if c.Start > d.Start+6 || d.Start > c.Start+6 {
		return false
	}
	s.lift(a.Bed, s.find(a))
	s.lift(b.Bed, s.find(b))
	if !s.force(Planting{b.Cand, a.Bed, a.Strip, max(a.Strips, d.MinStrips)}) {
		return false
	}
	if !s.force(Planting{a.Cand, b.Bed, b.Strip, max(b.Strips, c.MinStrips)}) {
		return false
	}
	for _, win := range []window{{a.Bed, a.Strip, a.Strips, c.Start, c.End}, {b.Bed, b.Strip, b.Strips, d.Start, d.End}} {
		win.from, win.to = s.widen(win)
		s.fill(win, 0.2)
	}
	return true
}
