package packed

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// drawTable makes up a small table that obeys the form's rules.
func drawTable(t *rapid.T) *Table {
	word := rapid.StringMatching(`[A-Zäöé][a-zß]{0,6}`)
	table := &Table{
		Zones:     rapid.SliceOfN(word, 1, 5).Draw(t, "zones"),
		Countries: []Country{{"AA", "Aland", nil}, {"BB", "Bland", []string{"Blandia", "Old Bland"}}},
	}
	var text strings.Builder
	for r := range rapid.IntRange(1, 4).Draw(t, "regions") {
		first := table.Len()
		lat := rapid.Int32Range(-90_000, 30_000).Draw(t, "south")
		lon := rapid.Int32Range(-180_000, 120_000).Draw(t, "west")
		for range rapid.IntRange(1, 9).Draw(t, "places") {
			table.Lat = append(table.Lat, lat+rapid.Int32Range(0, 60_000).Draw(t, "north"))
			table.Lon = append(table.Lon, lon+rapid.Int32Range(0, 60_000).Draw(t, "east"))
			table.ElevM = append(table.ElevM, rapid.Int16Range(-430, 5200).Draw(t, "elev"))
			table.Region = append(table.Region, uint16(r))
			table.Zone = append(table.Zone, uint16(rapid.IntRange(0, len(table.Zones)-1).Draw(t, "zone")))
			table.Pop = append(table.Pop, rapid.Uint8().Draw(t, "pop"))
			table.Estimated = append(table.Estimated, rapid.Bool().Draw(t, "estimated"))
			text.WriteString(strings.Join(rapid.SliceOfN(word, 1, 4).Draw(t, "names"), "\t"))
			table.LineEnds = append(table.LineEnds, uint32(text.Len()))
			text.WriteByte('\n')
		}
		table.Regions = append(table.Regions, Region{
			Country: rapid.IntRange(0, 1).Draw(t, "country"), Name: word.Draw(t, "region"), Code: "R", First: first, End: table.Len(),
		})
	}
	table.Text = text.String()
	return table
}

func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := drawTable(t)
		var first, second bytes.Buffer
		if err := Encode(&first, table); err != nil {
			t.Fatal(err)
		}
		if err := Encode(&second, table); err != nil || !bytes.Equal(first.Bytes(), second.Bytes()) {
			t.Fatal("the same table gives other bytes", err)
		}
		back, err := Decode(first.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(table, back) {
			t.Fatalf("got %+v, want %+v", back, table)
		}
	})
}

func TestEncodeRefuses(t *testing.T) {
	table := func() *Table {
		return &Table{
			Zones: []string{"Z"}, Countries: []Country{{Code: "AA", Name: "A"}}, Regions: []Region{{Name: "wide", First: 0, End: 2}},
			Lat: []int32{0, 1}, Lon: []int32{0, 1}, ElevM: []int16{0, 0}, Region: []uint16{0, 0}, Zone: []uint16{0, 0},
			Pop: []uint8{0, 0}, Estimated: []bool{false, false}, Text: "a\nb\n", LineEnds: []uint32{1, 3},
		}
	}
	for want, spoil := range map[string]func(*Table){
		"wider than":      func(t *Table) { t.Lon[1] = 70_000 },
		"does not follow": func(t *Table) { t.Regions[0].First = 1 },
		"hold 1 places":   func(t *Table) { t.Regions[0].End = 1 },
	} {
		spoilt := table()
		spoil(spoilt)
		if err := Encode(&bytes.Buffer{}, spoilt); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want %q", err, want)
		}
	}
	if err := Encode(&bytes.Buffer{}, table()); err != nil {
		t.Error(err)
	}
}

// FuzzDecode gives bodies with a fitting check sum, so that what lies behind it
// is reached: no panic, no unbounded memory, and either a whole table or an error.
func FuzzDecode(f *testing.F) {
	table := &Table{
		Zones: []string{"Z"}, Countries: []Country{{Code: "AA", Name: "A"}}, Regions: []Region{{Name: "r", First: 0, End: 2}},
		Lat: []int32{0, 1}, Lon: []int32{0, 1}, ElevM: []int16{0, 0}, Region: []uint16{0, 0}, Zone: []uint16{0, 0},
		Pop: []uint8{0, 0}, Estimated: []bool{false, false}, Text: "a\nb\n", LineEnds: []uint32{1, 3},
	}
	var whole bytes.Buffer
	if err := Encode(&whole, table); err != nil {
		f.Fatal(err)
	}
	f.Add(whole.Bytes()[len(magic)+5:])
	f.Add([]byte{})
	f.Add(binary.AppendUvarint(binary.AppendUvarint(nil, mostPlaces), mostTexts))
	f.Fuzz(func(t *testing.T, body []byte) {
		data := append([]byte(magic), version)
		data = binary.LittleEndian.AppendUint32(data, crc32.ChecksumIEEE(body))
		got, err := Decode(append(data, body...))
		if err != nil {
			if !errors.Is(err, ErrDamaged) || got != nil {
				t.Fatalf("%v, %v", got, err)
			}
			return
		}
		for i := range got.Len() {
			_ = got.Name(i)
			_ = got.Zones[got.Zone[i]]
			_ = got.Countries[got.Regions[got.Region[i]].Country]
		}
	})
}

func TestPeople(t *testing.T) {
	last := 0
	for code := range 256 {
		people := People(uint8(code))
		if people < last {
			t.Errorf("code %d gives %d people, fewer than the code before", code, people)
		}
		last = people
	}
	for people := 500; people < 30_000_000; people += 1 + people/37 {
		exact := math.Exp2(float64(PeopleCode(people)-1) / 10)
		if off := math.Abs(exact/float64(people) - 1); off > 0.036 {
			t.Errorf("%d people are coded as %.0f", people, exact)
		}
	}
}
