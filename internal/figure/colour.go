package figure

import (
	"fmt"
	"math"
	"strconv"
)

// rgb is a colour in sRGB, 0 to 1.
type rgb struct{ r, g, b float64 }

// oklch gives the sRGB colour of a lightness (0 to 1), chroma and hue angle in
// degrees, after Ottosson, "A perceptual color space for image processing"
// (2020). Colours outside sRGB lose chroma until they fit.
func oklch(lightness, chroma, hueDeg float64) rgb {
	for {
		c, ok := oklchOnce(lightness, chroma, hueDeg)
		if ok || chroma <= 0 {
			return c
		}
		chroma -= 0.004
	}
}

func oklchOnce(lightness, chroma, hueDeg float64) (rgb, bool) {
	h := hueDeg * math.Pi / 180
	a, b := chroma*math.Cos(h), chroma*math.Sin(h)
	l := cube(lightness + 0.3963377774*a + 0.2158037573*b)
	m := cube(lightness - 0.1055613458*a - 0.0638541728*b)
	s := cube(lightness - 0.0894841775*a - 1.2914855480*b)
	r := 4.0767416621*l - 3.3077115913*m + 0.2309699292*s
	g := -1.2684380046*l + 2.6097574011*m - 0.3413193965*s
	bl := -0.0041960863*l - 0.7034186147*m + 1.7076147010*s
	inside := min(r, g, bl) >= -1e-4 && max(r, g, bl) <= 1+1e-4
	return rgb{gamma(r), gamma(g), gamma(bl)}, inside
}

func cube(x float64) float64 { return x * x * x }

// gamma is the sRGB transfer curve (IEC 61966-2-1).
func gamma(linear float64) float64 {
	linear = min(max(linear, 0), 1)
	if linear <= 0.0031308 {
		return 12.92 * linear
	}
	return 1.055*math.Pow(linear, 1/2.4) - 0.055
}

func (c rgb) hex() string {
	byteOf := func(v float64) int { return int(math.Round(v * 255)) }
	return fmt.Sprintf("#%02x%02x%02x", byteOf(c.r), byteOf(c.g), byteOf(c.b))
}

func parseHex(hex string) rgb {
	channel := func(at int) float64 {
		v, err := strconv.ParseUint(hex[at:at+2], 16, 8)
		if err != nil {
			panic("figure: not a colour: " + hex)
		}
		return float64(v) / 255
	}
	return rgb{channel(1), channel(3), channel(5)}
}

// over is c laid on paper with the given share of cover.
func (c rgb) over(paper rgb, cover float64) rgb {
	mix := func(a, b float64) float64 { return a*cover + b*(1-cover) }
	return rgb{mix(c.r, paper.r), mix(c.g, paper.g), mix(c.b, paper.b)}
}

// luminance is WCAG 2.2 relative luminance of a #rrggbb colour.
func luminance(hex string) float64 {
	c := parseHex(hex)
	linear := func(v float64) float64 {
		if v <= 0.04045 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.r) + 0.7152*linear(c.g) + 0.0722*linear(c.b)
}

// contrast is the WCAG 2.2 contrast ratio of two #rrggbb colours, 1 to 21.
func contrast(a, b string) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}
