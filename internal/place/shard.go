package place

import (
	"encoding/binary"
	"math/bits"
	"strings"
	"sync"

	"haulm/internal/place/internal/packed"
	"haulm/internal/place/internal/spelling"
)

// shards is into how many parts the names are folded at once.
const shards = 4

// shard holds the folded names (keys) of a stretch of places by columns. A
// query runs down the columns once: that takes a millisecond, and nothing need
// be sorted at the start.
type shard struct {
	keys   []byte   // the folded names end to end
	ends   []uint32 // where each key ends
	begins []uint64 // its first eight letters, see beginning
	gists  []gist   // its length and letters
	owners []owner
}

// owner is the place of a key, and which of its names it is: 0 its own.
type owner struct {
	place int32
	order uint8
}

// foldNames folds all names, a shard to a goroutine.
func foldNames(table *packed.Table) []shard {
	all := make([]shard, shards)
	var wait sync.WaitGroup
	n := table.Len()
	for k := range all {
		wait.Go(func() { all[k] = foldShard(table, k*n/shards, (k+1)*n/shards) })
	}
	wait.Wait()
	return all
}

func foldShard(table *packed.Table, from, to int) (s shard) {
	names, letters := 0, 0
	for i := from; i < to; i++ {
		line := table.Line(i)
		names += 1 + strings.Count(line, "\t")
		letters += len(line)
	}
	s.keys = make([]byte, 0, letters)
	s.ends = make([]uint32, 0, names)
	s.begins = make([]uint64, 0, names)
	s.gists = make([]gist, 0, names)
	s.owners = make([]owner, 0, names)
	for i := from; i < to; i++ {
		line, more := table.Line(i), true
		for order := uint8(0); more; order++ {
			var name string
			name, line, more = strings.Cut(line, "\t")
			s.add(name, owner{int32(i), order})
		}
	}
	return s
}

func (s *shard) add(name string, of owner) {
	start := len(s.keys)
	s.keys = spelling.Fold(s.keys, name)
	key := s.keys[start:]
	s.ends = append(s.ends, uint32(len(s.keys)))
	s.begins = append(s.begins, beginning(key))
	s.gists = append(s.gists, gistOf(key))
	s.owners = append(s.owners, of)
}

// key is the k-th folded name.
func (s *shard) key(k int) []byte {
	if k == 0 {
		return s.keys[:s.ends[0]]
	}
	return s.keys[s.ends[k-1]:s.ends[k]]
}

// beginning packs the first eight letters of a key, so that a comparison of
// numbers stands for one of texts.
func beginning(key []byte) uint64 {
	if len(key) >= 8 {
		return binary.BigEndian.Uint64(key)
	}
	var eight [8]byte
	copy(eight[:], key)
	return binary.BigEndian.Uint64(eight[:])
}

// gist is what rules most keys out without reading them: in its low 27 bits
// which letters occur (a to z, and one bit for all else), above them the length
// up to 31. A typing error changes the length by one at most, and adds and takes
// away one letter at most.
type gist uint32

const (
	gistLetters = 1<<27 - 1
	gistLength  = 31 // this long or longer
)

func gistOf(key []byte) gist {
	set := gist(0)
	for _, letter := range key {
		bit := letter - 'a'
		if bit > 25 {
			bit = 26
		}
		set |= 1 << bit
	}
	return gist(min(len(key), gistLength))<<27 | set
}

// near says that a key with this gist may be within most slips of one with the
// other.
func (g gist) near(other gist, most int) bool {
	apart := int(g>>27) - int(other>>27)
	return apart <= most && -apart <= most &&
		bits.OnesCount32(uint32(g&^other&gistLetters)) <= most &&
		bits.OnesCount32(uint32(other&^g&gistLetters)) <= most
}
