package figure

// token is a named colour in each theme. Pages use the same tokens.
type token struct{ name, light, night, print string }

// tokens are all colours that are not a family's. Rust means act or go short;
// slate means frost and water; everything else is ink on paper.
var tokens = []token{
	{"paper", "#fbf8f0", "#181712", "#ffffff"},
	{"ground", "#fffdf8", "#211f19", "#ffffff"},
	{"path", "#f3eddd", "#26241d", "#f2f2f2"},
	{"ink", "#22241e", "#ece5d3", "#000000"},
	{"muted", "#5c5749", "#b3ab98", "#333333"},
	{"rule", "#dad4c4", "#3d3a30", "#b0b0b0"},
	{"bar", "#cfc9b4", "#565143", "#cccccc"},
	{"rust", "#9f3d18", "#e8946c", "#000000"},
	{"slate", "#43607a", "#93b3cf", "#333333"},
	{"frost-1", "#f1f3ef", "#20252a", "#f8f8f8"},
	{"frost-2", "#e3eaec", "#24303a", "#f1f1f1"},
	{"frost-3", "#d2dee6", "#2b3e4d", "#e7e7e7"},
}

func tokenOf(name string) token {
	for _, t := range tokens {
		if t.name == name {
			return t
		}
	}
	panic("figure: no colour called " + name)
}

// paint is how one class of shape is coloured. fill and stroke name a token,
// or a family tone as ":pale", ":full", ":line"; "none" is none, "" leaves the
// attribute out.
type paint struct {
	class        string
	fill, stroke string
	width        float64 // stroke width in px
	dash         string
	opacity      float64 // 0 = opaque
}

var paints = []paint{
	{class: "f-ink", fill: "ink"},
	{class: "f-muted", fill: "muted"},
	{class: "f-rust", fill: "rust"},
	{class: "f-slate", fill: "slate"},
	{class: "f-ground", fill: "ground"},
	{class: "f-path", fill: "path"},
	{class: "f-frost1", fill: "frost-1"},
	{class: "f-frost2", fill: "frost-2"},
	{class: "f-frost3", fill: "frost-3"},
	{class: "f-rule", fill: "none", stroke: "rule", width: 0.7},
	{class: "f-month", fill: "none", stroke: "muted", width: 0.6, dash: "1 3"},
	{class: "f-year", fill: "none", stroke: "ink", width: 1.1},
	{class: "f-frame", fill: "none", stroke: "ink", width: 0.9},
	{class: "f-tick", fill: "none", stroke: "ink", width: 0.8},
	{class: "f-fine", fill: "none", stroke: "muted", width: 0.6},
	{class: "f-today", fill: "none", stroke: "rust", width: 1.1},
	{class: "f-short", fill: "none", stroke: "rust", width: 1.1},
	{class: "f-lost", fill: "none", stroke: "rust", width: 1.4},
	{class: "f-need", fill: "none", stroke: "ink", width: 2},
	{class: "f-needhalo", fill: "none", stroke: "ground", width: 4.5, opacity: 0.8},
	{class: "f-range", fill: "none", stroke: "ink", width: 1.2},
	{class: "f-poor", fill: "none", stroke: "ink", width: 1.1, dash: "2 3"},
	{class: "f-good", fill: "none", stroke: "ink", width: 1.1, dash: "6 3"},
	{class: "f-frostline", fill: "none", stroke: "slate", width: 1.6},
	{class: "f-frosttick", fill: "none", stroke: "slate", width: 1.2},
	{class: "f-drop", fill: "none", stroke: "slate", width: 0.8, dash: "2 2"},
	{class: "f-hatchline", fill: "none", stroke: "muted", width: 0.7},
	{class: "f-pale", fill: ":pale"},
	{class: "f-full", fill: ":full"},
	{class: "f-band", fill: ":full", stroke: "ground", width: 0.8},
	{class: "f-edge", fill: "none", stroke: ":line", width: 0.9},
	{class: "f-slant", fill: "none", stroke: ":line", width: 0.9},
	{class: "f-mark", fill: "none", stroke: ":line", width: 1.9},
	{class: "f-median", fill: "none", stroke: ":line", width: 2},
	{class: "f-lead", fill: "none", stroke: ":line", width: 1.3, dash: "1.4 2.8"},
	{class: "f-leadhalo", fill: "none", stroke: "ground", width: 3.6, opacity: 0.75},
	{class: "f-dot", fill: ":line"},
	{class: "f-plant", fill: ":full", stroke: ":line", width: 0.8, opacity: 0.86},
	{class: "f-seed", fill: "none", stroke: ":line", width: 0.8},
	{class: "f-famhatch", fill: "none", stroke: ":line", width: 0.9},
	{class: "f-bar", fill: "bar", stroke: "muted", width: 0.6},
	{class: "f-barframe", fill: "none", stroke: "muted", width: 0.8},
}

func paintOf(class string) paint {
	for _, p := range paints {
		if p.class == class {
			return p
		}
	}
	panic("figure: no paint called " + class)
}

// lightColour is the fallback colour of a fill or stroke for standing alone.
func lightColour(name string, f family) string {
	switch name {
	case "none":
		return "none"
	case ":pale":
		return f.light().pale
	case ":full":
		return f.light().full
	case ":line":
		return f.light().line
	}
	return tokenOf(name).light
}

// serif is the stack of system faces; no font is fetched.
const serif = `"Iowan Old Style","Palatino Linotype",Palatino,"Book Antiqua","Noto Serif","DejaVu Serif",Georgia,serif`
