package spelling

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func TestFold(t *testing.T) {
	for text, want := range map[string]string{
		"Malmö": "malmo", "Zürich": "zurich", "Køge": "koge", "São Paulo": "sao paulo", "Łódź": "lodz",
		"Straße": "strasse", "Æbeltoft": "aebeltoft", "Þorlákshöfn": "thorlakshofn", "Iğdır": "igdir", "İzmir": "izmir",
		"St. Albans": "saint albans", "St Albans": "saint albans", "ST.ALBANS": "saint albans", "Sankt Gallen": "saint gallen",
		"Sint-Niklaas": "saint niklaas", "Mt. Isa": "mount isa", "Ft Worth": "fort worth", "Ste-Foy": "sainte foy",
		"Stratford-upon-Avon": "stratford upon avon", "L'Aquila": "laquila", "Hawke’s Bay": "hawkes bay",
		"The Hague": "hague", "The": "the", "Theydon Bois": "theydon bois", "Best": "best", "West St": "west saint",
		"  a -- b  ": "a b", "": "", " ,.-": "", "Москва": "москва", "Ho\u0302i An": "hoi an", "Frankfurt (Oder)": "frankfurt oder",
	} {
		if got := String(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

func TestFoldProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		folded := String(text)
		if strings.HasPrefix(folded, " ") || strings.HasSuffix(folded, " ") || strings.Contains(folded, "  ") || !utf8.ValidString(folded) {
			t.Fatalf("%q folds to %q", text, folded)
		}
		if again := string(Fold([]byte("x"), text)); again != "x"+folded {
			t.Fatalf("%q appended to x gives %q", text, again)
		}
	})
}

func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"cork", "cork", 0}, {"cork", "crok", 1}, {"cork", "cor", 1}, {"cork", "corrk", 1}, {"cork", "cerk", 1},
		{"cork", "okrc", 3}, {"edinburgh", "edinburg", 1}, {"brimingham", "birmingham", 1}, {"reyjkavik", "reykjavik", 1},
		{"", "ab", 2}, {"ab", "ba", 1}, {"abcd", "badc", 2}, {"kathmandoo", "kathmandu", 2}, {"a", "abcde", 3},
	} {
		if got := Distance([]byte(c.a), []byte(c.b), 2); got != min(c.want, 3) {
			t.Errorf("%q %q: %d, want %d", c.a, c.b, got, min(c.want, 3))
		}
	}
}

// plainDistance is the optimal string alignment by the full table.
func plainDistance(a, b string) int {
	table := make([][]int, len(a)+1)
	for i := range table {
		table[i] = make([]int, len(b)+1)
		for j := range table[i] {
			switch {
			case i == 0:
				table[i][j] = j
			case j == 0:
				table[i][j] = i
			default:
				cost := 1
				if a[i-1] == b[j-1] {
					cost = 0
				}
				table[i][j] = min(table[i-1][j]+1, table[i][j-1]+1, table[i-1][j-1]+cost)
				if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
					table[i][j] = min(table[i][j], table[i-2][j-2]+1)
				}
			}
		}
	}
	return table[len(a)][len(b)]
}

func TestDistanceAgainstFullTable(t *testing.T) {
	word := rapid.StringMatching(`[abc]{0,9}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		most := rapid.IntRange(1, 3).Draw(t, "most")
		if got, want := Distance([]byte(a), []byte(b), most), min(plainDistance(a, b), most+1); got != want {
			t.Fatalf("%q %q within %d: %d, want %d", a, b, most, got, want)
		}
	})
}
