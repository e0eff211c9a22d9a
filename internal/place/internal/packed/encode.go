package packed

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"io"
)

const (
	magic   = "haulmgaz"
	version = 1
	texts   = 4 // text sections: enough to keep a few cores busy, few enough to pack well
	planes  = 9
)

// Encode writes the table in the form described in doc.go. Equal tables give
// equal bytes with the same Go release.
func Encode(w io.Writer, t *Table) error {
	head, err := encodeHead(t)
	if err != nil {
		return err
	}
	columns, err := encodeColumns(t)
	if err != nil {
		return err
	}
	body := binary.AppendUvarint(nil, uint64(t.Len()))
	body = binary.AppendUvarint(body, texts)
	for _, raw := range append([][]byte{head, columns}, encodeTexts(t)...) {
		if body, err = appendSection(body, raw); err != nil {
			return err
		}
	}
	out := append([]byte(magic), version)
	out = binary.LittleEndian.AppendUint32(out, crc32.ChecksumIEEE(body))
	if _, err := w.Write(append(out, body...)); err != nil {
		return fmt.Errorf("gazetteer: writing the packed places: %w", err)
	}
	return nil
}

func appendSection(dst, raw []byte) ([]byte, error) {
	var packed bytes.Buffer
	deflate, err := flate.NewWriter(&packed, flate.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := deflate.Write(raw); err != nil {
		return nil, err
	}
	if err := deflate.Close(); err != nil {
		return nil, err
	}
	dst = binary.AppendUvarint(dst, uint64(len(raw)))
	dst = binary.AppendUvarint(dst, uint64(packed.Len()))
	return append(dst, packed.Bytes()...), nil
}

func encodeHead(t *Table) ([]byte, error) {
	head := appendStrings(nil, t.Zones)
	head = binary.AppendUvarint(head, uint64(len(t.Countries)))
	for _, country := range t.Countries {
		head = appendString(appendString(head, country.Code), country.Name)
		head = appendStrings(head, country.Other)
	}
	head = binary.AppendUvarint(head, uint64(len(t.Regions)))
	end := 0
	for i, region := range t.Regions {
		if region.First != end || region.End <= region.First {
			return nil, fmt.Errorf("gazetteer: region %d (%s) does not follow the one before", i, region.Name)
		}
		end = region.End
		south, west := corner(t, region)
		head = binary.AppendUvarint(head, uint64(region.Country))
		head = appendString(appendString(head, region.Name), region.Code)
		head = binary.AppendUvarint(head, uint64(region.End-region.First))
		head = binary.AppendVarint(head, int64(south))
		head = binary.AppendVarint(head, int64(west))
		used := zonesOf(t, region)
		head = binary.AppendUvarint(head, uint64(len(used)))
		for _, zone := range used {
			head = binary.AppendUvarint(head, uint64(zone))
		}
	}
	if end != t.Len() {
		return nil, fmt.Errorf("gazetteer: regions hold %d places of %d", end, t.Len())
	}
	return head, nil
}

func appendString(dst []byte, s string) []byte {
	return append(binary.AppendUvarint(dst, uint64(len(s))), s...)
}

func appendStrings(dst []byte, all []string) []byte {
	dst = binary.AppendUvarint(dst, uint64(len(all)))
	for _, s := range all {
		dst = appendString(dst, s)
	}
	return dst
}

// corner is a region's lowest latitude and longitude.
func corner(t *Table, region Region) (south, west int32) {
	south, west = t.Lat[region.First], t.Lon[region.First]
	for i := region.First; i < region.End; i++ {
		south, west = min(south, t.Lat[i]), min(west, t.Lon[i])
	}
	return south, west
}

// zonesOf lists the zones used in a region, in the order of their first use.
func zonesOf(t *Table, region Region) (used []uint16) {
	seen := map[uint16]bool{}
	for _, zone := range t.Zone[region.First:region.End] {
		if !seen[zone] {
			seen[zone] = true
			used = append(used, zone)
		}
	}
	return used
}

func encodeColumns(t *Table) ([]byte, error) {
	n := t.Len()
	out := make([]byte, planes*n)
	plane := func(k int) []byte { return out[k*n : (k+1)*n] }
	before := int16(0)
	for _, region := range t.Regions {
		south, west := corner(t, region)
		index := map[uint16]byte{}
		for k, zone := range zonesOf(t, region) {
			if k > 255 {
				return nil, fmt.Errorf("gazetteer: region %s has more than 256 time zones", region.Name)
			}
			index[zone] = byte(k)
		}
		for i := region.First; i < region.End; i++ {
			north, east := t.Lat[i]-south, t.Lon[i]-west
			if north > 0xffff || east > 0xffff {
				return nil, fmt.Errorf("gazetteer: region %s is wider than 65.535°; split it", region.Name)
			}
			plane(0)[i], plane(1)[i] = byte(north>>8), byte(north)
			plane(2)[i], plane(3)[i] = byte(east>>8), byte(east)
			rise := zigzag(t.ElevM[i] - before)
			before = t.ElevM[i]
			plane(4)[i], plane(5)[i] = byte(rise>>8), byte(rise)
			plane(6)[i], plane(7)[i] = t.Pop[i], index[t.Zone[i]]
			if t.Estimated[i] {
				plane(8)[i] = 1
			}
		}
	}
	return out, nil
}

func zigzag(v int16) uint16   { return uint16(v<<1) ^ uint16(v>>15) }
func unzigzag(u uint16) int16 { return int16(u>>1) ^ -int16(u&1) }

func encodeTexts(t *Table) (sections [][]byte) {
	for k := range texts {
		var text []byte
		for i := share(k, texts, t.Len()); i < share(k+1, texts, t.Len()); i++ {
			text = append(append(text, t.Line(i)...), '\n')
		}
		sections = append(sections, text)
	}
	return sections
}

// share is where the k-th of t text sections begins among n places.
func share(k, t, n int) int { return k * n / t }
