package app

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"
)

// corner is a grey picture whose upper left quarter is red.
func corner(w, h int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.Set(x, y, color.RGBA{90, 90, 90, 255})
			if x < w/2 && y < h/2 {
				m.Set(x, y, color.RGBA{230, 0, 0, 255})
			}
		}
	}
	return m
}

// withExif puts an Exif block with an orientation and a place into a JPEG.
func withExif(t *testing.T, m image.Image, orientation uint16) []byte {
	t.Helper()
	var plain bytes.Buffer
	if err := jpeg.Encode(&plain, m, nil); err != nil {
		t.Fatal(err)
	}
	tiff := []byte("II*\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00")
	tiff = binary.LittleEndian.AppendUint16(tiff, orientation)
	tiff = append(tiff, "\x00\x00\x00\x00\x00\x00GPS 53.4N 6.3W"...)
	block := append([]byte("Exif\x00\x00"), tiff...)
	out := append([]byte{0xff, 0xd8, 0xff, 0xe1}, binary.BigEndian.AppendUint16(nil, uint16(len(block)+2))...)
	return append(append(out, block...), plain.Bytes()[2:]...)
}

func TestAPhotoLosesItsPlaceAndStandsUpright(t *testing.T) {
	// Where the red corner of the picture as stored is seen (Exif 2.3, 0x0112).
	for orientation, want := range map[uint16][2]int{1: {0, 0}, 2: {1, 0}, 3: {1, 1}, 4: {0, 1}, 5: {0, 0}, 6: {1, 0}, 7: {1, 1}, 8: {0, 1}} {
		raw := withExif(t, corner(80, 40), orientation)
		if !bytes.Contains(raw, []byte("GPS 53.4N")) {
			t.Fatal("the test's photo holds no place")
		}
		mime, picture, err := CleanPhoto(raw)
		if err != nil || mime != "image/jpeg" {
			t.Fatalf("orientation %d: %s, %v", orientation, mime, err)
		}
		for _, left := range []string{"GPS", "Exif", "53.4"} {
			if bytes.Contains(picture, []byte(left)) {
				t.Errorf("orientation %d: %q is still in the photo", orientation, left)
			}
		}
		m, err := jpeg.Decode(bytes.NewReader(picture))
		if err != nil {
			t.Fatal(err)
		}
		b := m.Bounds()
		if wide := b.Dx() > b.Dy(); wide != (orientation < 5) {
			t.Errorf("orientation %d: %d by %d", orientation, b.Dx(), b.Dy())
		}
		x, y := b.Dx()/4+want[0]*b.Dx()/2, b.Dy()/4+want[1]*b.Dy()/2
		if r, g, _, _ := m.At(x, y).RGBA(); r>>8 < 180 || g>>8 > 80 {
			t.Errorf("orientation %d: the red corner is not at %d,%d", orientation, x, y)
		}
	}
}

func TestALargePhotoIsMadeSmaller(t *testing.T) {
	var raw bytes.Buffer
	if err := png.Encode(&raw, corner(2000, 1000)); err != nil {
		t.Fatal(err)
	}
	mime, picture, err := CleanPhoto(raw.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	small, err := SmallPhoto(mime, picture)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		picture []byte
		w, h    int
	}{{picture, keptPhotoSide, keptPhotoSide / 2}, {small, smallPhotoSide, smallPhotoSide / 2}} {
		if size, err := jpeg.DecodeConfig(bytes.NewReader(c.picture)); err != nil || size.Width != c.w || size.Height != c.h {
			t.Errorf("%d by %d, want %d by %d (%v)", size.Width, size.Height, c.w, c.h, err)
		}
	}
}

// webp is a WebP file of chunks, with the sizes made right.
func webp(chunks ...string) []byte {
	body := "WEBP"
	for i := 0; i < len(chunks); i += 2 {
		body += chunks[i] + string(binary.LittleEndian.AppendUint32(nil, uint32(len(chunks[i+1])))) + chunks[i+1]
		if len(chunks[i+1])%2 == 1 {
			body += "\x00"
		}
	}
	return []byte("RIFF" + string(binary.LittleEndian.AppendUint32(nil, uint32(len(body)))) + body)
}

func TestAWebPLosesWhatIsNoPicture(t *testing.T) {
	raw := webp("VP8X", "\x2c\x00\x00\x00\x00\x00\x00\x00\x00\x00", "VP8 ", "the picture", "EXIF", "GPS 53.4N", "XMP ", "<x>owner</x>")
	mime, picture, err := CleanPhoto(raw)
	want := webp("VP8X", "\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00", "VP8 ", "the picture")
	if err != nil || mime != "image/webp" || !bytes.Equal(picture, want) {
		t.Errorf("%s %q, %v; want %q", mime, picture, err, want)
	}
	if _, _, err := CleanPhoto(raw[:30]); err == nil {
		t.Error("a WebP that ends too soon was kept")
	}
	if _, _, err := CleanPhoto(webp("EXIF", "GPS 53.4N and nothing else")); err == nil {
		t.Error("a WebP without a picture was kept")
	}
}

func TestWhatIsNoPhotoIsRefused(t *testing.T) {
	head := "IHDR\x00\x00\xff\xff\x00\x00\xff\xff\x08\x02\x00\x00\x00"
	bomb := binary.BigEndian.AppendUint32([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0d"+head), crc32.ChecksumIEEE([]byte(head)))
	good := withExif(t, corner(80, 40), 1)
	for name, c := range map[string]struct {
		raw  []byte
		says string
	}{
		"nothing":               {nil, "no photo"},
		"a page named .jpg":     {[]byte("<html><script>alert(1)</script>"), "no photo"},
		"a drawing":             {[]byte(`<svg xmlns="http://www.w3.org/2000/svg"/>`), "no photo"},
		"an animation":          {[]byte("GIF89a\x01\x00\x01\x00"), "no photo"},
		"half a photo":          {good[:len(good)-40], "damaged"},
		"a photo's first bytes": {good[:12], "no photo"},
		"too many bytes":        {make([]byte, MostPhotoBytes+1), "larger than 16 MB"},
		"65535 pixels square":   {bomb, "65535 by 65535 pixels"},
	} {
		_, _, err := CleanPhoto(c.raw)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", name, err, c.says)
		}
	}
}

func FuzzCleanPhoto(f *testing.F) {
	f.Add([]byte("RIFF\x00\x00\x00\x00WEBPVP8 \x04\x00\x00\x00abcd"))
	f.Add([]byte("\xff\xd8\xff\xe1\x00\x08Exif\x00\x00"))
	f.Fuzz(func(t *testing.T, raw []byte) {
		mime, picture, err := CleanPhoto(raw)
		if err == nil && (mime == "" || len(picture) == 0) {
			t.Errorf("a photo of %q with %d bytes", mime, len(picture))
		}
	})
}
