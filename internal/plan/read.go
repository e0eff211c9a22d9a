package plan

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"encoding/json"
	"fmt"
	"io"
)

// Limits of what is read, so that a damaged or hostile file cannot exhaust
// memory or time. They are far above any kitchen garden.
const (
	maxText   = 32 << 20 // bytes of JSON after decompression
	maxWeeks  = 260
	maxYears  = 100
	maxBeds   = 2000
	maxStrips = 4000 // per bed
	maxGround = 20000
	maxCrops  = 500
	maxCands  = 50000
	maxTiers  = 8
	maxGrams  = 100_000   // per strip and week; times maxGround it fits 32 bits
	maxLabour = 1_000_000 // tenths of a minute, hundredths of a tray unit
	maxMoney  = 1e9
)

// Read reads a problem as JSON, plain or gzip-compressed, and checks every
// length, index and range. The error says what is wrong and where.
func Read(r io.Reader) (*Problem, error) {
	text, err := readText(r, maxText)
	if err != nil {
		return nil, fmt.Errorf("cropping problem: %w", err)
	}
	p := new(Problem)
	if err := json.Unmarshal(text, (*problemText)(p)); err != nil {
		return nil, fmt.Errorf("cropping problem: %w", err)
	}
	if err := p.Check(); err != nil {
		return nil, fmt.Errorf("cropping problem: %w", err)
	}
	return p, nil
}

// readText returns the whole text, unpacked if it is gzip, refusing more than limit bytes.
func readText(r io.Reader, limit int64) ([]byte, error) {
	in := bufio.NewReader(r)
	var src io.Reader = in
	if head, _ := in.Peek(2); len(head) == 2 && head[0] == 0x1f && head[1] == 0x8b {
		unpacked, err := gzip.NewReader(in)
		if err != nil {
			return nil, fmt.Errorf("damaged gzip file: %w", err)
		}
		src = unpacked
	}
	text, err := io.ReadAll(io.LimitReader(src, limit+1))
	if err != nil {
		return nil, fmt.Errorf("cannot be read to its end (damaged or cut short?): %w", err)
	}
	if int64(len(text)) > limit {
		return nil, fmt.Errorf("larger than %d MiB, which no garden needs", limit>>20)
	}
	if len(bytes.TrimSpace(text)) == 0 {
		return nil, fmt.Errorf("the file is empty")
	}
	return text, nil
}

// problemText decodes the lists one element at a time, each checked as it comes:
// a long list of empty elements is refused at its first, before it takes memory.
type problemText Problem

func (p *problemText) UnmarshalJSON(text []byte) error {
	type plain Problem
	lists := struct {
		*plain
		Beds  json.RawMessage `json:"beds"`
		Crops json.RawMessage `json:"crops"`
		Cands json.RawMessage `json:"cands"`

		Fixed   json.RawMessage `json:"fixed"`
		Closed  json.RawMessage `json:"closed"`
		Without json.RawMessage `json:"without"`
	}{plain: (*plain)(p)}
	if err := json.Unmarshal(text, &lists); err != nil {
		return err
	}
	q := (*Problem)(p)
	if err := q.checkScalars(); err != nil {
		return err
	}
	var err error
	if p.Crops, err = decodeList(lists.Crops, "crops", maxCrops, q.checkCrop); err != nil {
		return err
	}
	if p.Beds, err = decodeBeds(lists.Beds, q); err != nil {
		return err
	}
	if p.Cands, err = decodeList(lists.Cands, "cands", maxCands, q.checkCandidate); err != nil {
		return err
	}
	if p.Fixed, err = decodeList(lists.Fixed, "fixed", maxGround, accept[Planting]); err != nil {
		return err
	}
	if p.Closed, err = decodeList(lists.Closed, "closed", maxGround, accept[Closure]); err != nil {
		return err
	}
	p.Without, err = decodeList(lists.Without, "without", maxCrops, accept[int])
	return err
}

// accept leaves an element to be checked with the whole problem.
func accept[E any](int, *E) error { return nil }

func decodeBeds(text json.RawMessage, p *Problem) ([]Bed, error) {
	type plain Bed
	type bedText struct {
		plain
		Standing json.RawMessage `json:"stand"`
	}
	var beds []Bed
	_, err := decodeList(text, "beds", maxBeds, func(i int, b *bedText) error {
		bed := Bed(b.plain)
		if err := p.checkBed(i, &bed); err != nil {
			return err
		}
		var err error
		bed.Standing, err = decodeList(b.Standing, fmt.Sprintf("beds[%d].stand", i), bed.Len*p.Weeks,
			func(k int, s *Standing) error { return p.checkStanding(i, k, &bed, s) })
		beds = append(beds, bed)
		return err
	})
	return beds, err
}

// decodeList reads a JSON array, checking each element before the next is read.
func decodeList[E any](text json.RawMessage, name string, most int, check func(int, *E) error) ([]E, error) {
	text = bytes.TrimSpace(text)
	if len(text) == 0 || bytes.Equal(text, []byte("null")) {
		return nil, nil
	}
	if text[0] != '[' {
		return nil, fmt.Errorf("%s: want a list", name)
	}
	dec := json.NewDecoder(bytes.NewReader(text))
	if _, err := dec.Token(); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	var list []E
	for dec.More() {
		if len(list) == most {
			return nil, fmt.Errorf("%s: more than %d", name, most)
		}
		var e E
		if err := dec.Decode(&e); err != nil {
			return nil, fmt.Errorf("%s[%d]: %w", name, len(list), err)
		}
		if err := check(len(list), &e); err != nil {
			return nil, err
		}
		list = append(list, e)
	}
	return list, nil
}

// Write writes the problem as the JSON that Read reads.
func (p *Problem) Write(w io.Writer) error {
	out := bufio.NewWriter(w)
	if err := json.NewEncoder(out).Encode(p); err != nil {
		return fmt.Errorf("cropping problem: %w", err)
	}
	if err := out.Flush(); err != nil {
		return fmt.Errorf("cropping problem: %w", err)
	}
	return nil
}
