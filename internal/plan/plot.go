package plan

// plot is the ground as the search sees it: for every strip the weeks taken and
// the rotating families that have been or may not be, and every bed's plantings.
// Strips are numbered through all beds.
type plot struct {
	p        *Problem
	words    int // of a strip's weeks
	base     []int
	taken    []uint64   // [strip*words+i]
	families []uint32   // barred for good, used by a standing crop, or in use
	span     [][]uint64 // per candidate: the weeks it holds
	beds     [][]Planting
	tray     []int64           // hundredths in use, by week
	trayRoom []int64           // hundredths there are, by week
	strips   []int32           // per candidate: strips in the plan
	count    int               // plantings in the plan
	from     map[Planting]bool // the plan that changes are counted from
	changes  int               // plantings that are not in from, and those of from that are not here
}

func newPlot(p *Problem) *plot {
	g := &plot{p: p, words: (p.Weeks + 63) / 64, beds: make([][]Planting, len(p.Beds)),
		tray: make([]int64, p.Weeks), strips: make([]int32, len(p.Cands))}
	for w := range p.Weeks {
		g.trayRoom = append(g.trayRoom, int64(p.trayRoom(w)*100+1e-6))
	}
	total := 0
	for _, b := range p.Beds {
		g.base = append(g.base, total)
		total += b.Len
	}
	g.taken = make([]uint64, total*g.words)
	for b := range p.Beds {
		g.families = append(g.families, p.Beds[b].Ban...)
		for _, s := range p.Beds[b].Standing {
			for j := s.Strip; j < s.Strip+s.Strips; j++ {
				at := g.base[b] + j
				setWeeks(g.taken[at*g.words:(at+1)*g.words], 0, s.End)
				if p.Crops[s.Crop].Rotate {
					g.families[at] |= 1 << p.Crops[s.Crop].Family
				}
			}
		}
	}
	for i := range p.Cands {
		w := make([]uint64, g.words)
		setWeeks(w, p.Cands[i].Start, p.Cands[i].End)
		g.span = append(g.span, w)
	}
	for _, c := range p.Closed {
		for at := g.base[c.Bed] + c.Strip; at < g.base[c.Bed]+c.Strip+c.Strips; at++ {
			setWeeks(g.taken[at*g.words:(at+1)*g.words], c.From, c.To)
		}
	}
	for _, pl := range p.Fixed { // marked but not listed: no move can lift them
		g.mark(pl, true)
		g.count++
	}
	return g
}

func setWeeks(set []uint64, from, to int) {
	for w := from; w < to; w++ {
		set[w>>6] |= 1 << (w & 63)
	}
}

// family is the bit that a candidate bars and is barred by; 0 if it does not rotate.
func (g *plot) family(cand int) uint32 {
	c := &g.p.Crops[g.p.Cands[cand].Crop]
	if !c.Rotate {
		return 0
	}
	return 1 << c.Family
}

// open says whether one strip of a bed is free for a candidate in time and family.
func (g *plot) open(cand, bed, strip int) bool {
	at := g.base[bed] + strip
	if g.families[at]&g.family(cand) != 0 {
		return false
	}
	for i, w := range g.span[cand] {
		if g.taken[at*g.words+i]&w != 0 {
			return false
		}
	}
	return true
}

// fits says whether a whole planting may be added to what stands.
func (g *plot) fits(pl Planting) bool {
	if pl.Strips < 1 || pl.Strips < g.p.Cands[pl.Cand].MinStrips || pl.Strip < 0 ||
		pl.Strip+pl.Strips > g.p.Beds[pl.Bed].Len || !g.p.MayGrow(pl.Cand, pl.Bed) || !g.spare(pl.Cand, pl.Strips) {
		return false
	}
	for j := pl.Strip; j < pl.Strip+pl.Strips; j++ {
		if !g.open(pl.Cand, pl.Bed, j) {
			return false
		}
	}
	return true
}

// spare says whether indoor space and the candidate's limit leave room for strips more.
func (g *plot) spare(cand, strips int) bool {
	c := &g.p.Cands[cand]
	if c.MaxStrips > 0 && int(g.strips[cand])+strips > c.MaxStrips {
		return false
	}
	if c.Tray.Hundredths == 0 {
		return true
	}
	need := int64(c.Tray.Hundredths) * int64(strips)
	for w := c.Tray.From; w < c.Tray.To; w++ {
		if g.tray[w]+need > g.trayRoom[w] {
			return false
		}
	}
	return true
}

// put adds a planting that fits.
func (g *plot) put(pl Planting) {
	g.mark(pl, true)
	g.beds[pl.Bed] = append(g.beds[pl.Bed], pl)
	g.count++
	g.changes += g.change(pl)
}

// lift takes out the i-th planting of a bed; the bed's last takes its place.
func (g *plot) lift(bed, i int) Planting {
	list := g.beds[bed]
	pl := list[i]
	list[i] = list[len(list)-1]
	g.beds[bed] = list[:len(list)-1]
	g.mark(pl, false)
	g.count--
	g.changes -= g.change(pl)
	return pl
}

// change is how many changes more it is to have a planting.
func (g *plot) change(pl Planting) int {
	if g.from[pl] {
		return -1
	}
	return 1
}

// find gives the index of a planting in its bed, or -1.
func (g *plot) find(pl Planting) int {
	for i, q := range g.beds[pl.Bed] {
		if q == pl {
			return i
		}
	}
	return -1
}

func (g *plot) mark(pl Planting, on bool) {
	c := &g.p.Cands[pl.Cand]
	family := g.family(pl.Cand)
	for at := g.base[pl.Bed] + pl.Strip; at < g.base[pl.Bed]+pl.Strip+pl.Strips; at++ {
		// Adding sets bits that were clear, lifting clears the same ones.
		for i, w := range g.span[pl.Cand] {
			g.taken[at*g.words+i] ^= w
		}
		g.families[at] ^= family
	}
	strips := int32(pl.Strips)
	if !on {
		strips = -strips
	}
	g.strips[pl.Cand] += strips
	need := int64(c.Tray.Hundredths) * int64(strips)
	for w := c.Tray.From; w < c.Tray.To; w++ {
		g.tray[w] += need
	}
}

// plantings copies the plan in its written order: bed, strip, start week.
func (g *plot) plantings() []Planting {
	all := make([]Planting, 0, g.count)
	all = append(all, g.p.Fixed...)
	for _, list := range g.beds {
		all = append(all, list...)
	}
	sortPlantings(g.p, all)
	return all
}
