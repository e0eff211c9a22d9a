package app

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"image/png"
	"net/http"
)

// Bounds of a photo: of the file taken, of the picture in it before it is
// unpacked, and of the picture kept.
const (
	MostPhotoBytes  = 16 << 20 // a phone's picture is 2 to 8 MB
	mostPhotoPixels = 60_000_000
	keptPhotoSide   = 1600 // pixels along the longer side
	smallPhotoSide  = 240
	photoQuality    = 85
)

// errNoPhoto is what a file that is no photo gives.
var errNoPhoto = errors.New("this is no photo that Haulm can keep: send a JPEG, PNG or WebP picture")

// CleanPhoto makes a photo fit to keep: by what is in it, not by its name, and
// without what else is in the file: where and when it was taken, the phone and
// its owner. JPEG and PNG are turned upright, made smaller where they are large
// and written anew as JPEG; WebP keeps its picture and loses the rest.
func CleanPhoto(raw []byte) (mime string, picture []byte, err error) {
	if len(raw) > MostPhotoBytes {
		return "", nil, fmt.Errorf("the photo is larger than %d MB: send a smaller one", MostPhotoBytes>>20)
	}
	switch http.DetectContentType(raw) {
	case "image/jpeg", "image/png":
		picture, err = redraw(raw, keptPhotoSide)
		return "image/jpeg", picture, err
	case "image/webp":
		picture, err = stripWebP(raw)
		return "image/webp", picture, err
	}
	return "", nil, errNoPhoto
}

// SmallPhoto is a kept photo for a list. A WebP picture stays as large as it is.
func SmallPhoto(mime string, picture []byte) ([]byte, error) {
	if mime != "image/jpeg" && mime != "image/png" {
		return picture, nil
	}
	return redraw(picture, smallPhotoSide)
}

// redraw unpacks a picture, turns it upright, makes it no larger than side
// along its longer side and packs it as JPEG.
func redraw(raw []byte, side int) ([]byte, error) {
	size, format, err := image.DecodeConfig(bytes.NewReader(raw))
	if err != nil {
		return nil, errors.Join(errNoPhoto, err)
	}
	if size.Width <= 0 || size.Height <= 0 || size.Width*size.Height > mostPhotoPixels {
		return nil, fmt.Errorf("the photo has %d by %d pixels, more than Haulm unpacks: send a smaller one", size.Width, size.Height)
	}
	decode := jpeg.Decode
	if format == "png" {
		decode = png.Decode
	}
	decoded, err := decode(bytes.NewReader(raw))
	if err != nil {
		return nil, fmt.Errorf("the photo is damaged (%w): take it from the phone again", err)
	}
	flat := image.NewRGBA(image.Rect(0, 0, size.Width, size.Height))
	draw.Draw(flat, flat.Bounds(), image.White, image.Point{}, draw.Src)
	draw.Draw(flat, flat.Bounds(), decoded, decoded.Bounds().Min, draw.Over)
	upright := turn(shrink(flat, side), orientation(raw))
	var out bytes.Buffer
	if err := jpeg.Encode(&out, upright, &jpeg.Options{Quality: photoQuality}); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// shrink averages blocks of pixels so that the longer side is no longer than
// side; a picture that is small enough is left alone.
func shrink(src *image.RGBA, side int) *image.RGBA {
	w, h := src.Rect.Dx(), src.Rect.Dy()
	longer := max(w, h)
	if longer <= side {
		return src
	}
	nw, nh := max(1, w*side/longer), max(1, h*side/longer)
	out := image.NewRGBA(image.Rect(0, 0, nw, nh))
	for y := range nh {
		y0, y1 := y*h/nh, max(y*h/nh+1, (y+1)*h/nh)
		for x := range nw {
			x0, x1 := x*w/nw, max(x*w/nw+1, (x+1)*w/nw)
			var sum [3]int
			for sy := y0; sy < y1; sy++ {
				row := src.Pix[sy*src.Stride:]
				for sx := x0; sx < x1; sx++ {
					sum[0] += int(row[4*sx])
					sum[1] += int(row[4*sx+1])
					sum[2] += int(row[4*sx+2])
				}
			}
			n, at := (y1-y0)*(x1-x0), y*out.Stride+4*x
			out.Pix[at], out.Pix[at+1], out.Pix[at+2], out.Pix[at+3] = uint8(sum[0]/n), uint8(sum[1]/n), uint8(sum[2]/n), 255
		}
	}
	return out
}

// turn undoes the orientation that a camera wrote beside the picture (Exif 2.3,
// tag 0x0112): 1 is upright, 2 to 8 are mirrored, turned or both.
func turn(src *image.RGBA, orientation int) *image.RGBA {
	if orientation < 2 || orientation > 8 {
		return src
	}
	w, h := src.Rect.Dx(), src.Rect.Dy()
	swap := orientation >= 5
	nw, nh := w, h
	if swap {
		nw, nh = h, w
	}
	out := image.NewRGBA(image.Rect(0, 0, nw, nh))
	for y := range nh {
		for x := range nw {
			sx, sy := x, y
			switch orientation {
			case 2:
				sx = w - 1 - x
			case 3:
				sx, sy = w-1-x, h-1-y
			case 4:
				sy = h - 1 - y
			case 5:
				sx, sy = y, x
			case 6:
				sx, sy = y, h-1-x
			case 7:
				sx, sy = w-1-y, h-1-x
			case 8:
				sx, sy = w-1-y, x
			}
			copy(out.Pix[y*out.Stride+4*x:][:4], src.Pix[sy*src.Stride+4*sx:][:4])
		}
	}
	return out
}

// orientation reads the tag from a JPEG's Exif block; 1 where there is none.
func orientation(raw []byte) int {
	for at := 2; at+4 <= len(raw) && raw[0] == 0xff && raw[1] == 0xd8 && raw[at] == 0xff; {
		size := int(binary.BigEndian.Uint16(raw[at+2:]))
		if raw[at+1] == 0xda || size < 2 || at+2+size > len(raw) {
			return 1
		}
		if block := raw[at+4 : at+2+size]; raw[at+1] == 0xe1 && bytes.HasPrefix(block, []byte("Exif\x00\x00")) {
			return tiffOrientation(block[6:])
		}
		at += 2 + size
	}
	return 1
}

// tiffOrientation reads the tag from the first directory of a TIFF header.
func tiffOrientation(b []byte) int {
	if len(b) < 8 {
		return 1
	}
	var order binary.ByteOrder = binary.BigEndian
	if b[0] == 'I' {
		order = binary.LittleEndian
	}
	at := int(order.Uint32(b[4:]))
	if at < 8 || at+2 > len(b) {
		return 1
	}
	entries := int(order.Uint16(b[at:]))
	for i := range entries {
		e := at + 2 + 12*i
		if e+12 > len(b) {
			return 1
		}
		if order.Uint16(b[e:]) == 0x0112 {
			return int(order.Uint16(b[e+8:]))
		}
	}
	return 1
}

// stripWebP leaves out the chunks of a WebP file that are no picture (RFC
// 9649): EXIF, XMP and whatever is not known, and the flags that announce them.
func stripWebP(raw []byte) ([]byte, error) {
	const header, chunkHead = 12, 8
	if len(raw) < header+chunkHead {
		return nil, errNoPhoto
	}
	out := append([]byte(nil), raw[:header]...)
	pictures := 0
	for at := header; at+chunkHead <= len(raw); {
		size := int(binary.LittleEndian.Uint32(raw[at+4:]))
		end := at + chunkHead + size + size%2
		if size < 0 || at+chunkHead+size > len(raw) {
			return nil, errors.New("the photo is damaged: it ends too soon; take it from the phone again")
		}
		end = min(end, len(raw))
		chunk := append([]byte(nil), raw[at:end]...)
		switch string(chunk[:4]) {
		case "VP8X":
			if size < 10 {
				return nil, errNoPhoto
			}
			const exif, xmp, colours = 0x08, 0x04, 0x20
			chunk[chunkHead] &^= exif | xmp | colours
			out = append(out, chunk...)
		case "VP8 ", "VP8L", "ALPH", "ANIM", "ANMF":
			pictures++
			out = append(out, chunk...)
		}
		at = end
	}
	if pictures == 0 {
		return nil, errNoPhoto
	}
	binary.LittleEndian.PutUint32(out[4:], uint32(len(out)-chunkHead))
	return out, nil
}
