package climatology

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
)

// The file: the mark, then, packed by DEFLATE (RFC 1951):
//
//	number of points, uvarint
//	the points' rows, cols and heights in metres, then each coefficient of
//	each field in turn: a column of one zigzag varint a point, the
//	difference from the point before (from 0 for the first)
//	the relief's height codes, then its quarters: a byte a box, row by row,
//	the difference from the box to the west, modulo 256
//
// Points stand in bands of one degree from the south, in each from west to
// east, so that neighbours follow each other and differences are small.
const fileMark = "HAULM CLIMATE 1\n"

// mostPoints bounds what a damaged file can make the reader take.
const mostPoints = 1 << 17

var errDamaged = errors.New("the built-in climatology is damaged; take the program anew")

func encode(points []point, r relief) []byte {
	var raw []byte
	raw = binary.AppendUvarint(raw, uint64(len(points)))
	column := func(value func(p *point) int) {
		last := 0
		for i := range points {
			x := value(&points[i])
			raw = binary.AppendVarint(raw, int64(x-last))
			last = x
		}
	}
	column(func(p *point) int { return p.box.row })
	column(func(p *point) int { return p.box.col })
	column(func(p *point) int { return int(p.heightM) })
	for t := range fields.firstTerm() {
		column(func(p *point) int { return int(p.terms[t]) })
	}
	for _, plane := range [][]uint8{r.height, r.quarters} {
		for i, x := range plane {
			if i%reliefCols > 0 {
				x -= plane[i-1]
			}
			raw = append(raw, x)
		}
	}
	out := bytes.NewBufferString(fileMark)
	pack, _ := flate.NewWriter(out, flate.BestCompression) // the level is valid
	pack.Write(raw)                                        // a buffer takes all
	pack.Close()
	return out.Bytes()
}

func decode(file []byte) (*World, error) {
	packed, ok := bytes.CutPrefix(file, []byte(fileMark))
	if !ok {
		return nil, fmt.Errorf("no mark: %w", errDamaged)
	}
	const most = mostPoints*64*2 + 2*reliefRows*reliefCols
	var unpacked bytes.Buffer
	unpacked.Grow(2*reliefRows*reliefCols + 2<<20) // about what it takes
	if _, err := unpacked.ReadFrom(io.LimitReader(flate.NewReader(bytes.NewReader(packed)), most)); err != nil {
		return nil, fmt.Errorf("%w: %w", errDamaged, err)
	}
	raw := unpacked.Bytes()
	n, used := binary.Uvarint(raw)
	if used <= 0 || n == 0 || n > mostPoints {
		return nil, fmt.Errorf("number of points: %w", errDamaged)
	}
	w := &World{points: make([]point, n)}
	rest, err := w.readPoints(raw[used:])
	if err != nil {
		return nil, err
	}
	if len(rest) != 2*reliefRows*reliefCols {
		return nil, fmt.Errorf("relief: %w", errDamaged)
	}
	for row := 0; row < len(rest); row += reliefCols {
		last := uint8(0)
		for i, d := range rest[row : row+reliefCols] {
			last += d
			rest[row+i] = last
		}
	}
	w.relief = relief{rest[:reliefRows*reliefCols], rest[reliefRows*reliefCols:]}
	return w, nil
}

func (w *World) readPoints(raw []byte) (rest []byte, err error) {
	column := func(put func(p *point, x int)) {
		last := 0
		for i := range w.points {
			d, used := binary.Varint(raw)
			if used <= 0 {
				err = fmt.Errorf("points: %w", errDamaged)
				return
			}
			raw = raw[used:]
			last += int(d)
			put(&w.points[i], last)
		}
	}
	terms := fields.firstTerm()
	all := make([]int16, terms*len(w.points))
	for i := range w.points {
		w.points[i].terms = all[i*terms : (i+1)*terms]
	}
	column(func(p *point, x int) { p.box.row = bounded(x, 90*perDegree) })
	column(func(p *point, x int) { p.box.col = bounded(x, 180*perDegree) })
	column(func(p *point, x int) { p.heightM = float64(x) })
	for t := range terms {
		column(func(p *point, x int) { p.terms[t] = int16(x) })
	}
	return raw, err
}

// bounded keeps a damaged place on the globe.
func bounded(x, most int) int { return min(most-1, max(-most, x)) }
