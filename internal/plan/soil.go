package plan

import "fmt"

// soil is a kind of strip: strips that bar the same, at any place in the garden.
type soil struct {
	bed      int // of the first such strip
	strip    int // the first such strip
	strips   int
	sun      float64
	kind     int
	families uint32 // barred or used by what stands or is fixed
	from     int    // first week not closed or taken from the start on
	longest  int    // longest bed with such a strip: no planting is longer
	length   int    // index of longest in setups.lengths
	steps    []step // what may grow, by end week
}

type soilKey struct {
	sun      float64
	kind     int
	families uint32
	taken    string // weeks, as hexadecimal digits
}

// soils sorts all strips into kinds, in order of first appearance.
func soils(p *Problem) ([]soil, [][]int) {
	at := map[soilKey]int{}
	var all []soil
	where := make([][]int, len(p.Beds)) // by bed and strip
	g := newPlot(p)
	for b := range p.Beds {
		bed := &p.Beds[b]
		steps := stepsOf(g, b)
		for j := range bed.Len {
			strip := g.base[b] + j
			taken := g.taken[strip*g.words : (strip+1)*g.words]
			key := soilKey{bed.SunHours, bed.Kind, g.families[strip], fmt.Sprintf("%x", taken)}
			i, ok := at[key]
			if !ok {
				i = len(all)
				at[key] = i
				all = append(all, soil{bed: b, strip: j, sun: key.sun, kind: key.kind, families: key.families, from: freeFrom(taken)})
				for _, st := range steps {
					if g.open(st.cand, b, j) {
						all[i].steps = append(all[i].steps, st)
					}
				}
			}
			where[b] = append(where[b], i)
			all[i].strips++
			all[i].longest = max(all[i].longest, bed.Len)
		}
	}
	return all, where
}

// freeFrom is the first week that is not taken.
func freeFrom(taken []uint64) int {
	w := 0
	for w < len(taken)*64 && taken[w>>6]>>(w&63)&1 == 1 {
		w++
	}
	return w
}
