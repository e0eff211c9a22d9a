package plan

import "math"

// whole is by how much the duals' trees lower the crops' tables.
func (b *bounder) whole(d *Duals) float64 {
	if len(d.Whole) == 0 {
		return 0
	}
	total := 0.0
	b.ask(d)
	for c := range d.Whole {
		crop := 0.0
		for i := range d.Whole[c] {
			w := &d.Whole[c][i]
			crop += newCounter(b, c, span{w.From, w.To}).lowers(w, d)
		}
		total += max(0, crop)
	}
	return total
}

// ask works out what a strip of each candidate can be asked to pay its crop's table
// before any strip's run through time would earn more: its costs and what the best run
// earns in its weeks, on the ground where that is least. Scores and shares must be known.
func (b *bounder) ask(d *Duals) {
	b.rents, b.worths = make([]float64, len(b.p.Cands)), make([]float64, len(b.p.Cands))
	for i := range b.rents {
		b.rents[i] = math.Inf(1)
	}
	for u := range b.soils {
		b.strip(&b.soils[u], d.Family[u])
		for _, st := range b.soils[u].steps {
			room := b.best[st.end] - b.best[st.start]
			if st.family != 0 {
				room += d.Family[u][b.p.Crops[b.p.Cands[st.cand].Crop].Family]
			}
			b.rents[st.cand] = min(b.rents[st.cand], room)
		}
	}
	for i, room := range b.rents {
		if math.IsInf(room, 1) { // it can grow nowhere
			room = 0
		}
		b.worths[i] = b.shared.yields[i].dot(d.Produce[b.p.Cands[i].Crop], b.p.Years)
		b.rents[i] = room + b.worths[i] - b.score[i]
	}
}
