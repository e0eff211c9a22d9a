package place

import (
	"bytes"
	"slices"
	"strings"

	"haulm/internal/place/internal/packed"
	"haulm/internal/place/internal/spelling"
)

// mostQuery bounds what is searched for: no place has a longer name.
const mostQuery = 120

// mostMatches bounds the list: more is not a choice but a dump.
const mostMatches = 1000

// Find lists up to limit (at most 1000) places that a query may mean, the
// likeliest first: whole names before beginnings before misspelt ones, and among
// equals the most populous (see behind for other spellings). Accents, capitals,
// hyphens and "St." or "Saint" make no difference, and one or two typing errors
// are forgiven in names long enough to bear them.
// A country or region may follow, after a comma or as the last word: "Newport,
// Wales", "Springfield, IL", "Cork IE"; if the query is a whole name as it
// stands, both readings are listed. Where a town bears the very name, misspelt
// ones are left out. An empty query, or a country that is none, finds nothing.
func (g *Gazetteer) Find(query string, limit int) []Match {
	if limit <= 0 || len(query) > mostQuery {
		return nil
	}
	limit = min(limit, mostMatches)
	best := g.search(g.readings(query, false), limit)
	if len(best.found) == 0 {
		best = g.search(g.readings(query, true), limit)
	}
	matches := make([]Match, len(best.found))
	for i, f := range best.found {
		matches[i] = Match{Place: g.place(int(f.place)), Kind: f.kind}
		if f.order > 0 {
			matches[i].Spelling = strings.Split(g.table.Line(int(f.place)), "\t")[f.order]
		}
	}
	return matches
}

// search ranks the places that fit any of the readings.
func (g *Gazetteer) search(readings []reading, limit int) ranking {
	best := ranking{limit: limit}
	for _, r := range readings {
		g.whole(r, &best)
	}
	if len(best.found) < limit && !best.bears() {
		for _, r := range readings {
			g.misspelt(r, &best)
		}
	}
	return best
}

// whole ranks the places with a name that is, or begins with, the reading's.
func (g *Gazetteer) whole(r reading, best *ranking) {
	want := beginning(r.name)
	mask := ^uint64(0)
	if len(r.name) < 8 {
		mask <<= 8 * (8 - len(r.name))
	}
	for i := range g.shards {
		s := &g.shards[i]
		for k, begins := range s.begins {
			if begins&mask != want {
				continue
			}
			key := s.key(k)
			if !bytes.HasPrefix(key, r.name) {
				continue
			}
			kind := Beginning
			if len(key) == len(r.name) {
				kind = Exact
			}
			g.rank(s.owners[k], kind, r, best)
		}
	}
}

// slipsAllowed is how many typing errors a name of some length bears: more would
// make short names all alike.
func slipsAllowed(length int) int {
	switch {
	case length < 4:
		return 0
	case length < 7:
		return 1
	}
	return 2
}

// misspelt ranks the places with a name a slip or two away from the reading's.
func (g *Gazetteer) misspelt(r reading, best *ranking) {
	most := slipsAllowed(len(r.name))
	if most == 0 {
		return
	}
	want := gistOf(r.name)
	for i := range g.shards {
		s := &g.shards[i]
		for k, have := range s.gists {
			if !have.near(want, most) {
				continue
			}
			switch slips := spelling.Distance(s.key(k), r.name, most); {
			case slips == 1:
				g.rank(s.owners[k], OneSlip, r, best)
			case slips == 2 && most == 2:
				g.rank(s.owners[k], TwoSlips, r, best)
			}
		}
	}
}

// behind is how far a place found by another spelling stands behind those that
// bear the name, on the log scale of ten steps to a doubling: a place of 32 times
// the people comes level. (Pune is "Puno" to some; who types Puno means the town
// in Peru.)
const behind = 50

// rank offers a place to the list if it lies where the reading says.
func (g *Gazetteer) rank(of owner, kind Kind, r reading, best *ranking) {
	if !r.allows(g, int(of.place)) {
		return
	}
	weight := int16(g.table.Pop[of.place])
	if of.order > 0 {
		weight -= behind
	}
	best.offer(found{kind: kind, weight: weight, owner: of})
}

// found is a candidate.
type found struct {
	owner
	kind   Kind
	weight int16
}

// before orders candidates, with the place's number to settle ties the same way
// each time.
func (f found) before(other found) bool {
	if f.kind != other.kind {
		return f.kind < other.kind
	}
	if f.weight != other.weight {
		return f.weight > other.weight
	}
	return f.place < other.place
}

// ranking keeps the best few candidates, each place once.
type ranking struct {
	limit int
	found []found
}

// bears says that a place in the list has the very name asked for, as its own or
// as an other spelling of a town: then those that only look alike are noise.
func (r *ranking) bears() bool {
	town := int16(packed.PeopleCode(30_000)) - behind
	return slices.ContainsFunc(r.found, func(f found) bool {
		return f.kind == Exact && (f.order == 0 || f.weight >= town)
	})
}

func (r *ranking) offer(f found) {
	at := len(r.found)
	for at > 0 && f.before(r.found[at-1]) {
		at--
	}
	if at == r.limit {
		return
	}
	for i, other := range r.found {
		if other.place != f.place {
			continue
		}
		if i < at {
			return // it stands higher already
		}
		r.found = append(r.found[:i], r.found[i+1:]...)
		break
	}
	if len(r.found) == r.limit {
		r.found = r.found[:r.limit-1]
	}
	r.found = append(r.found, found{})
	copy(r.found[at+1:], r.found[at:])
	r.found[at] = f
}
