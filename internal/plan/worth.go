package plan

// PeriodWorth summarises GroundWorth for people: what one more strip of each bed
// would be worth in each period, the mean over the bed's strips, summed over the
// period's weeks. starts are the first weeks of the periods (months, say),
// ascending; a period ends where the next begins, the last with the horizon.
// It tells [bed][period]. d must have passed Bound.
func PeriodWorth(p *Problem, d *Duals, starts []int) [][]float64 {
	worth := make([][]float64, len(p.Beds))
	for b, strips := range GroundWorth(p, d) {
		worth[b] = make([]float64, len(starts))
		for _, weeks := range strips {
			for k, from := range starts {
				to := p.Weeks
				if k+1 < len(starts) {
					to = starts[k+1]
				}
				for w := max(from, 0); w < min(to, p.Weeks); w++ {
					worth[b][k] += weeks[w] / float64(len(strips))
				}
			}
		}
	}
	return worth
}
