package plan

import (
	"math"
	"slices"
)

// most bounds what the crop can be worth. Areas are sought at which nothing pays to
// be added: a piece of a strip of what pays best is added, or taken of what pays
// least, at the prices that the table then gives, in ever smaller pieces. The means
// of the last prices are such as prove a bound.
func (s *solo) most() float64 {
	n := len(s.stands)
	grams, price, mean := slices.Clone(s.stands), make([]float64, n), make([]float64, n)
	best := math.Inf(1)
	for piece := soloPiece; piece > soloLeast; piece /= 2 {
		clear(mean)
		count := 0.0
		for range soloSteps {
			s.prices(grams, price)
			for i, x := range price {
				mean[i] += x
			}
			count++
			k, sign := s.choose(price, piece)
			if k == nil {
				break
			}
			k.area += sign * piece
			at := k.yield.from * s.whole.Years
			for i, g := range k.yield.grams {
				grams[at+i] = max(0, grams[at+i]+sign*piece*g)
			}
		}
		if piece < soloProof {
			for i := range mean {
				mean[i] /= count
			}
			best = min(best, s.proven(mean))
		}
	}
	return best
}

// The sizes of piece in strips, from which on bounds are worked out, and how many
// steps there may be of each.
const (
	soloPiece = 2.0
	soloProof = 0.3
	soloLeast = 0.1
	soloSteps = 40
)

// choose is the candidate that pays best to have more of, or least of those there
// are, at the given prices; nil where neither pays.
func (s *solo) choose(price []float64, piece float64) (*soloCand, float64) {
	var more, less *soloCand
	up, down := 1e-9, -1e-9
	for _, k := range s.cands {
		net := s.earns(k, price) - k.charge - k.least
		if net > up && !k.fair {
			net -= s.fairShare(k)
		}
		if net > up {
			more, up = k, net
		}
		if k.area >= piece && net < down {
			less, down = k, net
		}
	}
	if less != nil && -down > up {
		return less, -1
	}
	return more, 1
}

// fairShare raises a candidate's charge to the true share of a setup and tells by
// how much. A strip of a planting is only worth having if it earns, on top of the
// others of the planting alone, what it costs: no planting worth anything is longer,
// since other plantings of the crop can only make it earn less. So each strip bears
// at least that part of a setup.
func (s *solo) fairShare(k *soloCand) float64 {
	k.fair = true
	setup := s.whole.SetupCost
	if setup == 0 {
		return 0
	}
	low, high := max(1, k.MinStrips), k.longest // the length is between
	for low < high {
		n := (low + high + 1) / 2
		if s.alone(k, n)-s.alone(k, n-1) >= k.bare+k.least {
			low = n
		} else {
			high = n - 1
		}
	}
	more := setup/float64(low) - setup/float64(k.longest)
	k.charge += more
	return more
}

// alone is what n strips of a candidate fetch when nothing else of the crop grows.
func (s *solo) alone(k *soloCand, n int) float64 {
	grams, picked := make([]int32, s.whole.Weeks), make([]uint64, (s.whole.Weeks+63)/64)
	worth := make([]float64, s.whole.Years)
	for y, yield := range k.Yield {
		clear(grams)
		clear(picked)
		for i, g := range yield.Grams {
			if w := yield.First + i; g > 0 {
				grams[w] = g * int32(n)
				picked[w>>6] |= 1 << (w & 63)
			}
		}
		worth[y] = s.years[y] * s.larder.value(s.plate, grams, picked)
	}
	return s.total(worth)
}

// total is the measure of what something is worth by year, weights included.
func (s *solo) total(years []float64) float64 {
	if s.weigh != nil {
		return s.weigh(years)
	}
	sum := 0.0
	for _, x := range years {
		sum += x
	}
	return sum
}

// earns is the worth of a strip's pickings at prices.
func (s *solo) earns(k *soloCand, price []float64) float64 {
	n := s.whole.Years
	if s.weigh == nil {
		return k.yield.dot(price, n)
	}
	worth, at := make([]float64, n), k.yield.from*n
	for i, g := range k.yield.grams {
		worth[i%n] += g * price[at+i]
	}
	return s.weigh(worth)
}

// prices is what a gram more is worth of what is picked, [week*years+year].
func (s *solo) prices(picked, price []float64) {
	weeks, n := s.whole.Weeks, s.whole.Years
	grams, bits := make([]int32, weeks), make([]uint64, (weeks+63)/64)
	for y, q := range s.years {
		clear(bits)
		for w := range grams {
			if grams[w] = int32(math.Round(picked[w*n+y])); grams[w] > 0 {
				bits[w>>6] |= 1 << (w & 63)
			}
		}
		s.larder.prices(s.plate, grams, bits, s.first, weeks, q, price[y:], n)
	}
}

// proven bounds the crop's worth by prices of its produce: what the table gains by
// buying at them, what standing plants sell, and on every lot the best run of
// candidates, ground paid. All prices somewhat higher and lower are tried as well.
func (s *solo) proven(price []float64) float64 {
	own := s.mended(price)
	best, scale := s.at(own, 1), 1.0
	for _, step := range soloScales {
		if v := s.at(own, scale*step); v < best {
			best, scale = v, scale*step
		} else if v := s.at(own, scale/step); v < best {
			best, scale = v, scale/step
		}
	}
	return best
}

// soloScales are the factors by which all prices are tried higher and lower.
var soloScales = []float64{1.15, 1.06, 1.025}

// mended lifts prices so that a kept gram is worth no less than what is left of it.
func (s *solo) mended(price []float64) []float64 {
	n, own := s.whole.Years, slices.Clone(price)
	for i := len(own) - n - 1; i >= 0; i-- {
		own[i] = max(own[i], s.whole.Crops[s.crop].Keep*own[i+n])
	}
	return own
}

// at is the bound that mended prices prove, all of them scaled.
func (s *solo) at(price []float64, scale float64) float64 {
	n := s.whole.Years
	gains := make([]float64, n)
	for _, sl := range s.larder.slots {
		if int(sl.week) < s.first {
			continue
		}
		for y, q := range s.years {
			if gain := q*sl.worth - scale*price[int(sl.week)*n+y]; gain > 0 {
				gains[y] += gain * sl.room
			}
		}
	}
	for i, g := range s.stands {
		gains[i%n] += g * scale * price[i]
	}
	total := s.total(gains)
	s.stalls.shut()
	for i, x := range price {
		s.scaled[i] = scale * x
	}
	for _, k := range s.cands {
		k.score = scale*s.earns(k, price) - k.charge
		if !k.fair && k.score > k.least {
			k.score -= s.fairShare(k)
		}
		k.rated = s.whole.SetupCost == 0
	}
	for u := range s.ground {
		total += float64(s.ground[u].strips) * s.run(u)
	}
	return total
}

// rate is the most that a strip of a planting fetches, its setup paid, when it has
// the table to itself at the scaled prices (see setups): it rises with the length
// and then falls, so that it is looked for from the length that was best before.
func (s *solo) rate(k *soloCand) float64 {
	least := max(1, k.MinStrips)
	n := max(least, k.length)
	best := s.rateOf(k, n)
	for ; n < k.longest; n++ {
		v := s.rateOf(k, n+1)
		if v <= best {
			break
		}
		best = v
	}
	for ; n > least; n-- {
		v := s.rateOf(k, n-1)
		if v <= best {
			break
		}
		best = v
	}
	k.length = n
	return best
}

func (s *solo) rateOf(k *soloCand, n int) float64 {
	worth := make([]float64, s.whole.Years)
	for y, yield := range k.Yield {
		if len(yield.Grams) > 0 {
			worth[y] = s.stalls.in(y, s.whole, s.larder, s.scaled, s.years).value(yield, float64(n))
		}
	}
	return (s.total(worth) - s.whole.SetupCost) / float64(n)
}

// run is the best that a strip of a lot can earn with the crop: one candidate where
// the crop rotates, else the longest path through time. Only the candidates that
// come into it are rated, since that takes long.
func (s *solo) run(u int) float64 {
	for {
		total, used := s.path(u)
		unrated := false
		for _, k := range used {
			if !k.rated {
				k.rated, unrated = true, true
				k.score = min(k.score, s.rate(k)-k.bare)
			}
		}
		if !unrated {
			return total
		}
	}
}

// path is the longest path over a lot at the present scores, and what is on it.
func (s *solo) path(u int) (float64, []*soloCand) {
	if s.whole.Crops[s.crop].Rotate {
		best, at := 0.0, []*soloCand(nil)
		for _, k := range s.cands {
			if v := k.score - k.lots[u]; v > best {
				best, at = v, []*soloCand{k}
			}
		}
		return best, at
	}
	best, last := make([]float64, s.whole.Weeks+1), make([]*soloCand, s.whole.Weeks+1)
	next := 0
	for w := 1; w <= s.whole.Weeks; w++ {
		best[w] = best[w-1]
		for ; next < len(s.cands) && s.cands[next].End == w; next++ {
			k := s.cands[next]
			if v := best[k.Start] + k.score - k.lots[u]; v > best[w] {
				best[w], last[w] = v, k
			}
		}
	}
	var used []*soloCand
	for w := s.whole.Weeks; w > 0; {
		if k := last[w]; k != nil {
			used = append(used, k)
			w = k.Start
		} else {
			w--
		}
	}
	return best[s.whole.Weeks], used
}
