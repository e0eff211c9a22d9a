package graded

import (
	"strings"
	"testing"
)

const heading = "rule,low,value,high,source,grade,note\n"

func TestFigures(t *testing.T) {
	all := MustRead("rules", heading+"can_l,8,10,12,common practice,P,\"a can, full\"\nhose,1,2,3,estimate,E,\n")
	want := Figure{Name: "can_l", Low: 8, Value: 10, High: 12, Source: "common practice", Grade: "P", Note: "a can, full"}
	if len(all) != 2 || all["can_l"] != want || all.Value("hose") != 2 {
		t.Errorf("%+v", all)
	}
	if got := all["can_l"].Basis(); got != "common practice, grade P" {
		t.Errorf("the basis is %q", got)
	}
	defer func() {
		if recover() == nil {
			t.Error("a figure that does not stand there has a value")
		}
	}()
	all.Value("bucket_l")
}

func TestUnsoundTablesAreRefused(t *testing.T) {
	for _, c := range []struct{ is, text, says string }{
		{"empty", "", "rules: is empty"},
		{"another heading", "rule,value,source\na,1,b\n", "rules row 0: the heading is"},
		{"no number", heading + "a,1,two,3,s,E,\n", "rules row 1: "},
		{"out of range", heading + "a,1,2,3,s,E,\nb,1,4,3,s,E,\n", "rules row 2: b: 4 is not between 1 and 3"},
		{"no figure", heading + "a,NaN,NaN,NaN,s,E,\n", "rules row 1: a: NaN"},
		{"twice", heading + "a,1,2,3,s,E,\na,1,2,3,s,E,\n", "rules row 2: a stands twice"},
		{"a cell short", heading + "a,1,2,3,s,E\n", "rules: "},
	} {
		if _, err := Read("rules", c.text); err == nil || !strings.HasPrefix(err.Error(), c.says) {
			t.Errorf("%s: %v, should begin %q", c.is, err, c.says)
		}
	}
}

func TestRows(t *testing.T) {
	rows := MustRows("flights", "# what flies\npest,base_c,need\nCarrot fly,5,258\n")
	var base, need float64
	rows[0].Numbers(1, &base, &need)
	if len(rows) != 1 || base != 5 || need != 258 {
		t.Errorf("%+v: %g, %g", rows, base, need)
	}
	defer func() {
		if recover() == nil {
			t.Error("a name was read as a number")
		}
	}()
	rows[0].Numbers(0, &base)
}
