package plan

// window is a rectangle of ground: strips of one bed, weeks from <= w < to.
type window struct {
	bed, strip, strips, from, to int
}

// clear lifts everything that reaches into a window and puts back what stands
// beside it, where that is still long enough to stand alone. It returns the span
// of weeks that came free.
func (s *searcher) clear(win window) (from, to int) {
	from, to = win.from, win.to
	end := win.strip + win.strips
	for i := len(s.beds[win.bed]) - 1; i >= 0; i-- {
		pl := s.beds[win.bed][i]
		c := &s.p.Cands[pl.Cand]
		if pl.Strip >= end || pl.Strip+pl.Strips <= win.strip || c.Start >= win.to || c.End <= win.from {
			continue
		}
		s.lift(win.bed, i)
		from, to = min(from, c.Start), max(to, c.End)
		least := max(1, c.MinStrips)
		if n := win.strip - pl.Strip; n >= least {
			s.put(Planting{pl.Cand, pl.Bed, pl.Strip, n})
		}
		if n := pl.Strip + pl.Strips - end; n >= least {
			s.put(Planting{pl.Cand, pl.Bed, end, n})
		}
	}
	return from, to
}

// step is a candidate as the longest path sees it.
type step struct {
	cand, start, end, least int
	family                  uint32
}

// stepsOf lists what suits a bed by the week in which it ends.
func stepsOf(g *plot, bed int) []step {
	byEnd := make([][]step, g.p.Weeks+1)
	for i := range g.p.Cands {
		c := &g.p.Cands[i]
		if g.p.MayGrow(i, bed) {
			byEnd[c.End] = append(byEnd[c.End], step{i, c.Start, c.End, max(1, c.MinStrips), g.family(i)})
		}
	}
	var all []step
	for _, list := range byEnd {
		all = append(all, list...)
	}
	return all
}

// passOver is the chance that fill overlooks a candidate: its scores are of the
// first strip and promise too much for several, and what it would always plant in
// vain must not keep it from planting the rest.
const passOver = 0.2

// fill plants the free weeks of a window with the run of candidates that the
// scores think best: the longest path through time, each step a candidate over
// all the window's strips. Scores are blurred by noise (0 = none) so that equal
// windows are not always filled alike. Families are kept by remembering those of
// the best path to each week, which may miss a better run but never breaks a rule.
func (s *searcher) fill(win window, noise float64) {
	busy, families := s.busy(win)
	best, used, last := s.best, s.used, s.last
	best[win.from], used[win.from] = 0, families
	steps := s.steps[win.bed]
	k := s.stepAt[win.bed][win.from]
	free := win.from // first week of the free run that reaches to w
	n, each := float64(win.strips), s.p.SetupCost+s.asks
	for w := win.from + 1; w <= win.to; w++ {
		best[w], used[w], last[w] = best[w-1], used[w-1], -1
		if busy[(w-1)>>6]>>((w-1)&63)&1 == 1 {
			free = w
		}
		for ; k < len(steps) && steps[k].end <= w; k++ {
			st := &steps[k]
			if st.start < free || st.end < w || st.least > win.strips || used[st.start]&st.family != 0 {
				continue
			}
			score := s.scoreOf(st.cand)
			if score <= 0 {
				continue
			}
			v := score * n
			if noise > 0 {
				u := s.rng.Float64()
				if u < passOver {
					continue
				}
				v *= 1 + noise*(u-0.5)
			}
			v += best[st.start] - each
			if v > best[w] && s.spare(st.cand, win.strips) {
				best[w], used[w], last[w] = v, used[st.start]|st.family, st.cand
			}
		}
	}
	for w := win.to; w > win.from; {
		if last[w] < 0 {
			w--
			continue
		}
		cand := last[w]
		w = s.p.Cands[cand].Start
		if pl := (Planting{cand, win.bed, win.strip, win.strips}); s.spare(cand, win.strips) {
			s.put(pl)
		}
	}
}

// busy joins the weeks taken and the families barred on any strip of a window.
func (s *searcher) busy(win window) ([]uint64, uint32) {
	clear(s.weeks)
	var families uint32
	for at := s.base[win.bed] + win.strip; at < s.base[win.bed]+win.strip+win.strips; at++ {
		families |= s.families[at]
		for i := range s.weeks {
			s.weeks[i] |= s.taken[at*s.words+i]
		}
	}
	return s.weeks, families
}
