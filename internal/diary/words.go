package diary

import (
	"strings"
	"unicode"

	"haulm/internal/crop"
)

// token is one word of a line: as typed, and made plain for comparing.
type token struct {
	typed string
	plain string
	used  bool
}

// longestLine is more than anybody writes; what lies beyond is not looked at.
const longestLine = 2000

// tokens splits a line into words. Signs that carry meaning inside numbers
// (point, minus, slash, degree) stay.
func tokens(line string) []token {
	var out []token
	for _, word := range strings.Fields(line) {
		typed := strings.Trim(word, ",;:!?\"“”()[]")
		typed = strings.TrimSuffix(typed, ".")
		if typed == "" {
			continue
		}
		out = append(out, token{typed: typed, plain: plain(typed)})
	}
	return splitUnits(out)
}

// splitUnits parts "800g" into "800" and "g", and leaves ISO dates and
// ordinals whole.
func splitUnits(in []token) []token {
	var out []token
	for _, t := range in {
		cut := numberEnd(t.plain)
		rest := t.plain[cut:]
		if cut == 0 || rest == "" || isOrdinal(rest) || strings.ContainsAny(rest, "-/0123456789") {
			out = append(out, t)
			continue
		}
		if _, known := unitWords[rest]; !known {
			out = append(out, t)
			continue
		}
		out = append(out, token{typed: t.plain[:cut], plain: t.plain[:cut]}, token{typed: rest, plain: rest})
	}
	return out
}

func isOrdinal(s string) bool { return s == "st" || s == "nd" || s == "rd" || s == "th" }

// numberEnd is how many bytes at the head of s are a number.
func numberEnd(s string) int {
	end, digits := 0, false
	for i, r := range s {
		switch {
		case r >= '0' && r <= '9':
			digits = true
		case (r == '-' || r == '+') && i == 0, (r == '.' || r == ',') && digits:
		default:
			if !digits {
				return 0
			}
			return end
		}
		end = i + 1
	}
	if !digits {
		return 0
	}
	return end
}

// plain is lower case with a plain minus and apostrophes dropped.
func plain(s string) string {
	s = strings.ToLower(s)
	return plainSigns.Replace(s)
}

var plainSigns = strings.NewReplacer("−", "-", "–", "-", "’", "", "'", "", "½", ".5", "º", "°", "℃", "°c", "℉", "°f")

// nameWords makes the words of a name plain and singular.
func nameWords(name string) []string {
	words := strings.FieldsFunc(plain(name), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	for i := range words {
		words[i] = crop.Singular(words[i])
	}
	return words
}

// kindPhrases are the words for what happened, longest first.
var kindPhrases = []struct {
	words string
	kind  Kind
}{
	{"pricked out", PrickedOut}, {"prick out", PrickedOut}, {"pricked", PrickedOut},
	{"hardened off", HardenedOff}, {"harden off", HardenedOff}, {"hardening off", HardenedOff}, {"hardened", HardenedOff},
	{"potted on", PottedOn}, {"potted up", PottedOn}, {"pot on", PottedOn}, {"potted", PottedOn},
	{"planted out", Planted}, {"set out", Planted}, {"put out", Planted}, {"planted", Planted}, {"transplanted", Planted},
	{"came up", Up}, {"come up", Up}, {"coming up", Up}, {"are up", Up}, {"is up", Up}, {"emerged", Up}, {"germinated", Up}, {"up", Up},
	{"earthed up", EarthedUp}, {"earth up", EarthedUp}, {"hilled", EarthedUp}, {"ridged", EarthedUp}, {"earthed", EarthedUp},
	{"pinched out", PinchedOut}, {"pinch out", PinchedOut}, {"side shooted", PinchedOut}, {"sideshooted", PinchedOut}, {"pinched", PinchedOut},
	{"first flowers", Flowering}, {"first flower", Flowering}, {"in flower", Flowering}, {"in bloom", Flowering}, {"flowering", Flowering}, {"flowered", Flowering}, {"blooming", Flowering}, {"blossoming", Flowering},
	{"staked", Supported}, {"supported", Supported}, {"tied in", Supported}, {"tied", Supported}, {"caned", Supported},
	{"put in store", Stored}, {"into store", Stored}, {"stored", Stored}, {"store", Stored}, {"strung", Stored},
	{"night low", Low}, {"lowest", Low}, {"minimum", Low}, {"low", Low}, {"min temp", Low},
	{"rain gauge", Rain}, {"rained", Rain}, {"rainfall", Rain}, {"rain", Rain},
	{"dug up", Picked}, {"harvested", Picked}, {"harvest", Picked}, {"picked", Picked}, {"pick", Picked}, {"cut", Picked}, {"lifted", Picked}, {"dug", Picked}, {"pulled", Picked}, {"gathered", Picked},
	{"sowed", Sown}, {"sown", Sown}, {"sow", Sown}, {"seeded", Sown},
	{"watered", Watered}, {"water", Watered}, {"irrigated", Watered},
	{"fed", Fed}, {"feed", Fed}, {"fertilised", Fed}, {"fertilized", Fed},
	{"lost", Lost}, {"died", Lost}, {"killed", Lost}, {"eaten", Lost},
	{"cleared", Cleared}, {"clear", Cleared}, {"finished", Cleared}, {"removed", Cleared}, {"composted", Cleared},
	{"thinned", Thinned}, {"thin", Thinned}, {"mulched", Mulched}, {"mulch", Mulched},
	{"weeded", Weeded}, {"hoed", Weeded}, {"weed", Weeded}, {"hoe", Weeded},
	{"uncovered", Uncovered}, {"covered", Covered}, {"fleeced", Covered},
	{"silenced", Silenced}, {"silence", Silenced}, {"skipped", Skipped}, {"skip", Skipped},
}

// unitWords are the words for units.
var unitWords = map[string]Unit{
	"g": Gram, "gram": Gram, "grams": Gram, "gramme": Gram, "grammes": Gram, "gr": Gram, "kg": Kilogram, "kgs": Kilogram, "kilo": Kilogram, "kilos": Kilogram,
	"kilogram": Kilogram, "kilograms": Kilogram, "kilogramme": Kilogram, "kilogrammes": Kilogram,
	"oz": Ounce, "ounce": Ounce, "ounces": Ounce, "lb": Pound, "lbs": Pound, "pound": Pound, "pounds": Pound,
	"basin": Basin, "basins": Basin, "bowl": Basin, "bowls": Basin, "colander": Basin, "colanders": Basin,
	"l": Litre, "litre": Litre, "litres": Litre, "liter": Litre, "liters": Litre, "ltr": Litre,
	"gal": Gallon, "gallon": Gallon, "gallons": Gallon, "can": Can, "cans": Can, "canful": Can, "canfuls": Can,
	"min": HoseMinute, "mins": HoseMinute, "minute": HoseMinute, "minutes": HoseMinute,
	"mm": Millimetre, "millimetre": Millimetre, "millimetres": Millimetre, "in": Inch, "inch": Inch, "inches": Inch,
	"c": Celsius, "°c": Celsius, "°": Celsius, "degrees": Celsius, "degree": Celsius, "celsius": Celsius, "f": Fahrenheit, "°f": Fahrenheit, "fahrenheit": Fahrenheit,
	"plants": Count, "plant": Count, "heads": Count, "head": Count, "fruits": Count, "fruit": Count, "bulbs": Count, "bulb": Count, "roots": Count, "cobs": Count, "seedlings": Count, "seeds": Count,
	"%": Percent, "percent": Percent, "pc": Percent, "bunches": Count, "bunch": Count, "pieces": Count,
}

// numberWords are numbers said in words.
var numberWords = map[string]float64{
	"a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
	"eleven": 11, "twelve": 12, "dozen": 12, "fifteen": 15, "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "hundred": 100, "half": 0.5, "quarter": 0.25, "third": 1.0 / 3, "couple": 2,
}

// shareWords are parts of what stood, per cent.
var shareWords = map[string]float64{"half": 50, "quarter": 25, "third": 33}

// causeWords are what a loss is commonly put down to, without "to" or "by".
var causeWords = map[string]string{
	"frost": "frost", "frosted": "frost", "cold": "cold", "hail": "hail", "wind": "wind", "heat": "heat", "drought": "drought", "flood": "flood", "waterlogged": "waterlogging",
	"slug": "slugs", "slugs": "slugs", "snail": "snails", "snails": "snails", "aphids": "aphids", "caterpillars": "caterpillars", "pigeons": "pigeons", "birds": "birds",
	"mice": "mice", "rats": "rats", "rabbits": "rabbits", "deer": "deer", "blight": "blight", "blighted": "blight", "mildew": "mildew", "rot": "rot", "rotted": "rot",
}

// fillers carry no meaning.
var fillers = map[string]bool{
	"the": true, "of": true, "from": true, "in": true, "at": true, "on": true, "with": true, "a": true, "an": true, "and": true, "some": true, "i": true, "we": true,
	"my": true, "our": true, "for": true, "into": true, "is": true, "are": true, "was": true, "were": true, "has": true, "have": true, "been": true, "hose": true, "full": true,
	"out": true, "by": true, "about": true, "more": true, "first": true, "all": true, "night": true, "last": true, "temperature": true, "gauge": true, "under": true, "to": true, "new": true,
}
