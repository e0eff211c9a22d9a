package packed

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"slices"
	"sync"
)

// Limits that no true file comes near; past them the file is damaged, and it is
// refused before memory is taken for it.
const (
	mostPlaces  = 1 << 20
	mostTexts   = 64
	mostSection = 64 << 20
	mostList    = 4096 // countries, zones, other names
)

// ErrDamaged is wrapped by every refusal of Decode.
var ErrDamaged = errors.New("the place list inside the program is damaged; install the program again")

func damaged(format string, args ...any) error {
	return fmt.Errorf("gazetteer: %w (%s)", ErrDamaged, fmt.Sprintf(format, args...))
}

// Decode unpacks a table written by Encode. Bytes that Encode did not write
// give an error that wraps ErrDamaged.
func Decode(data []byte) (*Table, error) {
	body, err := bodyOf(data)
	if err != nil {
		return nil, err
	}
	return decodeBody(body, true)
}

// DecodeFigures unpacks all but the names, which take most of the time; the
// table's Text is empty.
func DecodeFigures(data []byte) (*Table, error) {
	body, err := bodyOf(data)
	if err != nil {
		return nil, err
	}
	return decodeBody(body, false)
}

// bodyOf is what follows the mark and the check sum, which must fit.
func bodyOf(data []byte) ([]byte, error) {
	if len(data) < len(magic)+5 || string(data[:len(magic)]) != magic {
		return nil, damaged("it does not begin as one")
	}
	if data[len(magic)] != version {
		return nil, damaged("it is of version %d, and this program reads %d", data[len(magic)], version)
	}
	check := binary.LittleEndian.Uint32(data[len(magic)+1:])
	body := data[len(magic)+5:]
	if crc32.ChecksumIEEE(body) != check {
		return nil, damaged("its check sum does not fit")
	}
	return body, nil
}

// section is a packed stretch and its unpacked length.
type section struct {
	packed []byte
	length int
}

func decodeBody(body []byte, names bool) (*Table, error) {
	r := &reader{rest: body}
	n := r.number(mostPlaces)
	t := r.number(mostTexts)
	sections := make([]section, 2+t)
	for i := range sections {
		length := r.number(mostSection)
		sections[i] = section{r.take(r.number(mostSection)), length}
	}
	if slices.ContainsFunc(sections, func(s section) bool { return !s.believable() }) {
		return nil, damaged("a section claims more than it can hold")
	}
	if r.bad || n == 0 || t == 0 || len(r.rest) != 0 || sections[1].length != planes*n {
		return nil, damaged("its sections do not fit together")
	}
	table := newTable(n)
	if !names {
		return table, decodeFigures(table, sections[0], sections[1])
	}
	text := make([]byte, textLength(sections[2:]))
	// The columns and texts do not need one another, so they unpack side by side.
	var wait sync.WaitGroup
	faults := make([]error, 1+t)
	from := 0
	for k, s := range sections[2:] {
		start := from
		from += s.length
		wait.Go(func() {
			faults[1+k] = decodeText(table.LineEnds[share(k, t, n):share(k+1, t, n)], text, start, s)
		})
	}
	faults[0] = decodeFigures(table, sections[0], sections[1])
	wait.Wait()
	if err := errors.Join(faults...); err != nil {
		return nil, err
	}
	table.Text = string(text)
	return table, nil
}

func newTable(n int) *Table {
	return &Table{
		Lat: make([]int32, n), Lon: make([]int32, n), ElevM: make([]int16, n),
		Region: make([]uint16, n), Zone: make([]uint16, n), Pop: make([]uint8, n),
		Estimated: make([]bool, n), LineEnds: make([]uint32, n),
	}
}

// believable says that a section could hold what it claims: DEFLATE packs 1032
// to 1 at best, and memory should not be taken for a false claim.
func (s section) believable() bool { return s.length <= 1032*(len(s.packed)+1) }

func textLength(sections []section) (sum int) {
	for _, s := range sections {
		sum += s.length
	}
	return sum
}

// unpack inflates a section into raw, which it must fill.
func unpack(raw []byte, s section) error {
	inflate := flate.NewReader(bytes.NewReader(s.packed))
	if _, err := io.ReadFull(inflate, raw); err != nil {
		return damaged("a section does not unpack: %v", err)
	}
	if extra, err := inflate.Read(make([]byte, 1)); extra != 0 || err != io.EOF {
		return damaged("a section is longer than it says")
	}
	return nil
}

// decodeText unpacks a section to its stretch of text and notes where the lines
// of its places end.
func decodeText(ends []uint32, text []byte, start int, s section) error {
	end := start + s.length
	if err := unpack(text[start:end], s); err != nil {
		return err
	}
	for i := range ends {
		length := bytes.IndexByte(text[start:end], '\n')
		if length < 0 {
			return damaged("names are missing")
		}
		ends[i] = uint32(start + length)
		start += length + 1
	}
	if start != end {
		return damaged("there are more names than places")
	}
	return nil
}

// decodeFigures fills all but the names.
func decodeFigures(table *Table, head, columns section) error {
	raw := make([]byte, head.length)
	if err := unpack(raw, head); err != nil {
		return err
	}
	corners, err := decodeHead(table, &reader{rest: raw})
	if err != nil {
		return err
	}
	raw = make([]byte, columns.length)
	if err := unpack(raw, columns); err != nil {
		return err
	}
	return decodeColumns(table, corners, raw)
}

// regionFrame is what the columns of a region's places are counted from.
type regionFrame struct {
	south, west int32
	zones       []uint16
}

func decodeHead(table *Table, r *reader) ([]regionFrame, error) {
	table.Zones = r.texts()
	table.Countries = make([]Country, r.number(mostList))
	for i := range table.Countries {
		table.Countries[i] = Country{Code: r.text(), Name: r.text(), Other: r.texts()}
	}
	table.Regions = make([]Region, r.number(min(len(r.rest), 0xffff)))
	frames := make([]regionFrame, len(table.Regions))
	end := 0
	for i := range table.Regions {
		region := Region{Country: r.number(len(table.Countries) - 1), Name: r.text(), Code: r.text(), First: end}
		end += r.number(table.Len() - end)
		region.End = end
		table.Regions[i] = region
		frames[i].south, frames[i].west = r.signed(), r.signed()
		frames[i].zones = make([]uint16, r.number(min(len(r.rest), 256)))
		for k := range frames[i].zones {
			frames[i].zones[k] = uint16(r.number(min(len(table.Zones)-1, 0xffff)))
		}
	}
	if r.bad || end != table.Len() || len(r.rest) != 0 {
		return nil, damaged("its list of countries and regions does not fit")
	}
	return frames, nil
}

func decodeColumns(table *Table, frames []regionFrame, raw []byte) error {
	n := table.Len()
	plane := func(k int) []byte { return raw[k*n : (k+1)*n] }
	latHigh, latLow, lonHigh, lonLow := plane(0), plane(1), plane(2), plane(3)
	elevHigh, elevLow, pop, zone, estimated := plane(4), plane(5), plane(6), plane(7), plane(8)
	elev := int16(0)
	for k, region := range table.Regions {
		frame := frames[k]
		for i := region.First; i < region.End; i++ {
			if int(zone[i]) >= len(frame.zones) {
				return damaged("a place has no time zone")
			}
			elev += unzigzag(uint16(elevHigh[i])<<8 | uint16(elevLow[i]))
			table.Lat[i] = frame.south + int32(latHigh[i])<<8 + int32(latLow[i])
			table.Lon[i] = frame.west + int32(lonHigh[i])<<8 + int32(lonLow[i])
			table.ElevM[i], table.Region[i], table.Zone[i] = elev, uint16(k), frame.zones[zone[i]]
			table.Estimated[i] = estimated[i] != 0
		}
	}
	copy(table.Pop, pop)
	return nil
}

// reader takes numbers and texts off the front of bytes. After the first
// misfit it is bad and gives zeros, so that one test at the end is enough.
type reader struct {
	rest []byte
	bad  bool
}

// number takes a uvarint of at most most.
func (r *reader) number(most int) int {
	v, size := binary.Uvarint(r.rest)
	if r.bad || size <= 0 || most < 0 || v > uint64(most) {
		r.bad = true
		return 0
	}
	r.rest = r.rest[size:]
	return int(v)
}

// signed takes a zigzag varint of at most a turn of the globe in steps.
func (r *reader) signed() int32 {
	v, size := binary.Varint(r.rest)
	if r.bad || size <= 0 || v > 360/Step || v < -360/Step {
		r.bad = true
		return 0
	}
	r.rest = r.rest[size:]
	return int32(v)
}

func (r *reader) take(length int) []byte {
	if r.bad || length > len(r.rest) {
		r.bad = true
		return nil
	}
	taken := r.rest[:length]
	r.rest = r.rest[length:]
	return taken
}

func (r *reader) text() string { return string(r.take(r.number(len(r.rest)))) }

func (r *reader) texts() []string {
	count := r.number(mostList)
	if count == 0 {
		return nil
	}
	all := make([]string, count)
	for i := range all {
		all[i] = r.text()
	}
	return all
}
