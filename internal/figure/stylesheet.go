package figure

import (
	"fmt"
	"strings"
)

// Stylesheet is the CSS of all figures: colour tokens for light, night
// (prefers-color-scheme, or data-look="night" on the root) and print, and the
// classes that use them. data-look="day" holds off the night.
func Stylesheet() string {
	var b strings.Builder
	b.WriteString("/* Colours: light, night, print. Written by the figure package. */\n:root{--serif:" + serif + ";\n")
	writeTokens(&b, func(t token) string { return t.light }, family.light)
	b.WriteString("}\n@media (prefers-color-scheme:dark){:root:not([data-look=day]){color-scheme:dark;\n")
	writeNight(&b)
	b.WriteString("}}\n:root[data-look=night]{color-scheme:dark;\n")
	writeNight(&b)
	b.WriteString("}\n@media print{:root,:root:not([data-look=day]),:root[data-look=night]{color-scheme:light;\n")
	writeTokens(&b, func(t token) string { return t.print }, family.print)
	b.WriteString("}}\n")
	for _, f := range families {
		key := strings.ToLower(f.name)
		fmt.Fprintf(&b, ".fam-%s{--pale:var(--%s-pale);--full:var(--%s-full);--line:var(--%s-line)}\n", key, key, key, key)
	}
	for _, p := range paints {
		writePaint(&b, p)
	}
	b.WriteString(fixedCSS)
	return b.String()
}

func writeNight(b *strings.Builder) {
	writeTokens(b, func(t token) string { return t.night }, family.night)
}

func writeTokens(b *strings.Builder, colour func(token) string, tone func(family) tones) {
	for _, t := range tokens {
		fmt.Fprintf(b, "--%s:%s;", t.name, colour(t))
	}
	b.WriteString("\n")
	for _, f := range families {
		key, t := strings.ToLower(f.name), tone(f)
		fmt.Fprintf(b, "--%s-pale:%s;--%s-full:%s;--%s-line:%s;\n", key, t.pale, key, t.full, key, t.line)
	}
}

func writePaint(b *strings.Builder, p paint) {
	fmt.Fprintf(b, ".hf .%s{", p.class)
	for _, prop := range []struct{ name, colour string }{{"fill", p.fill}, {"stroke", p.stroke}} {
		switch {
		case prop.colour == "":
		case prop.colour == "none":
			fmt.Fprintf(b, "%s:none;", prop.name)
		default:
			fmt.Fprintf(b, "%s:var(--%s);", prop.name, strings.TrimPrefix(prop.colour, ":"))
		}
	}
	b.WriteString("}\n")
}

// fixedCSS is layout and behaviour, the same in every theme.
const fixedCSS = `.hf{display:block;width:100%;height:auto;overflow:visible;font-family:var(--serif);font-variant-numeric:tabular-nums lining-nums}
.hf[data-figure=spark]{display:inline-block;width:auto;vertical-align:middle}
.hf text{font-family:var(--serif);font-variant-numeric:tabular-nums lining-nums}
.hf .f-halo{stroke:var(--halo,var(--ground))}
.hf .f-on-paper{--halo:var(--paper)}
.hf .f-on-pale{--halo:var(--pale)}
.hf .f-on-full{--halo:var(--full)}
.hf a{text-decoration:none}
.hf [tabindex],.hf a{outline:none}
.hf [tabindex]:focus-visible .f-edge,.hf a:focus-visible .f-edge{stroke:var(--ink);stroke-width:2.6}
.hf [tabindex]:hover .f-edge,.hf a:hover .f-edge{stroke:var(--ink);stroke-width:1.6}
.hf [tabindex]:focus-visible .f-focus,.hf a:focus-visible .f-focus{stroke:var(--ink);stroke-width:2}
.hf a:hover text,.hf a:focus-visible text{text-decoration:underline;text-decoration-thickness:.06em;text-underline-offset:.18em}
.f-figure{margin:0 0 2.4rem}
.f-figure figcaption h2,.f-figure figcaption h3{margin:0 0 .1rem}
.f-reading{margin:0 0 .7rem;color:var(--muted);max-width:68ch}
.f-data{margin-top:.6rem}
.f-data>summary{min-height:44px;display:flex;align-items:center;cursor:pointer;color:var(--muted)}
.f-scroll{overflow-x:auto}
.f-scroll table{border-collapse:collapse;font-variant-numeric:tabular-nums lining-nums}
.f-scroll caption{text-align:left;color:var(--muted);padding:.2rem 0 .5rem}
.f-scroll th,.f-scroll td{border-top:1px solid var(--rule);padding:.35rem .9rem .35rem 0;text-align:left;vertical-align:top;font-weight:400}
.f-scroll thead th{border-top:0;color:var(--muted);vertical-align:bottom}
.f-frame-narrow{display:none}
@media (max-width:700px){.f-frame-wide{display:none}.f-frame-narrow{display:block}}
@media print{.f-frame-wide{display:block}.f-frame-narrow{display:none}.f-data:not([open])>summary{display:none}.f-figure{break-inside:avoid}
.hf [tabindex]:focus-visible .f-edge,.hf [tabindex]:hover .f-edge{stroke-width:.9}}
@media (prefers-reduced-motion:no-preference){.hf .f-edge{transition:stroke-width .12s}}
`
