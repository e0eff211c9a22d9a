package diary

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
)

// What is written out is read in again as it was, whatever words are in it.
func TestATableComesBackAsItWas(t *testing.T) {
	c := plot(t)
	rows := []Row{
		{Entry: Entry{ID: 1, Kind: Sown, Day: on("2027-05-12"), Place: "Bed 1", Crop: "carrot_main", Planting: "carrot/drilled/Bed 1/0/1"}},
		{Entry: Entry{ID: 2, Kind: Picked, Day: on("2027-08-01"), Place: "Bed 2", Crop: "courgette", Planting: "noted/7", Amount: 0.8125, Unit: Kilogram, Text: "said \"good\";\nand, more"}, PhotoFile: "photos/2.jpg"},
		{Entry: Entry{ID: 4, Kind: Low, Day: on("2027-03-01"), Amount: -2, Unit: Celsius}},
		{Entry: Entry{ID: 5, Kind: Rain, Day: on("2027-03-01"), Amount: 0, Unit: Millimetre}},
		{Entry: Entry{ID: 9, Kind: Lost, Day: on("2027-06-01"), Place: "A bed that is gone", Crop: "leek", Amount: 50, Unit: Percent, Cause: "slugs, snails"}},
		{Entry: Entry{ID: 10, Kind: Skipped, Day: on("2027-06-01"), Text: "weed/7"}},
	}
	var text bytes.Buffer
	if err := WriteCSV(&text, rows, c.cropName); err != nil {
		t.Fatal(err)
	}
	got, doubts, err := ReadCSV(&text, c)
	if err != nil || len(got) != len(rows) {
		t.Fatalf("got %d rows, %v", len(got), err)
	}
	for i := range rows {
		want := rows[i]
		want.Line, want.Linked = got[i].Line, true
		if got[i] != want {
			t.Errorf("row %d:\n got %+v\nwant %+v", i, got[i], want)
		}
	}
	if len(doubts) != 1 || !strings.Contains(doubts[0], `line 7: no place is called "A bed that is gone" now`) {
		t.Errorf("doubts: %q", doubts)
	}
}

// No words become a formula of a spreadsheet, and whatever stands before a sign
// comes back as it was; amounts stay numbers.
func TestNoWordsAreAFormula(t *testing.T) {
	c := plot(t)
	for words, cell := range map[string]string{
		`=HYPERLINK("http://x.example","look")`: `"'=HYPERLINK(""http://x.example"",""look"")"`, "-2 at dawn": "'-2 at dawn", "+ two": "'+ two",
		"@home": "'@home", "'=1": "''=1", "''-": "'''-", "'twas cold": "'twas cold", "a=b": "a=b", "'": "'",
	} {
		row := Row{Entry: Entry{ID: 1, Kind: Low, Day: on("2027-03-01"), Amount: -2, Unit: Celsius, Place: words, Cause: words, Text: words}}
		var text bytes.Buffer
		if err := WriteCSV(&text, []Row{row}, c.cropName); err != nil {
			t.Fatal(err)
		}
		if want := ",-2,°C,,," + cell + ",," + cell + "," + cell + ","; !strings.Contains(text.String(), want) {
			t.Errorf("%s is written as %s, want %s", words, text.String(), want)
		}
		rows, _, err := ReadCSV(&text, c)
		if err != nil || len(rows) != 1 || rows[0].Place != words || rows[0].Cause != words || rows[0].Text != words || rows[0].Amount != -2 {
			t.Errorf("%s came back as %+v, %v", words, rows, err)
		}
	}
	rows, _, err := ReadCSV(strings.NewReader("day,what,amount,unit,words\n2027-03-01,low,'-2,°C,'=1\n"), c)
	if err != nil || rows[0].Amount != -2 || rows[0].Text != "=1" {
		t.Errorf("by hand: %+v, %v", rows, err)
	}
}

// A table written by hand needs two columns; a spreadsheet's semicolons and
// decimal commas are understood.
func TestATableByHandIsUnderstood(t *testing.T) {
	c := plot(t)
	want := Entry{Kind: Picked, Day: on("2027-08-01"), Place: "Bed 2", Crop: "courgette", Amount: 0.8, Unit: Kilogram}
	for _, text := range []string{
		"day,what,crop,place,amount,unit\n2027-08-01,picked,courgette,Bed 2,0.8,kg\n",
		"\ufeffday;what;crop_name;place;amount;unit\r\n2027-08-01;harvested;Zucchini;bed 2;0,8;kilos\r\n;;;;;\r\n",
		"Day\tWhat\tUnit\tAmount\tPlace\tCrop\n2027-08-01\tPicked\tkg\t0.8\tBed 2\tcourgettes",
	} {
		rows, doubts, err := ReadCSV(strings.NewReader(text), c)
		if err != nil || len(rows) != 1 || rows[0].Entry != want || rows[0].Linked || len(doubts) > 0 {
			t.Errorf("%q: got %+v, %q, %v", text, rows, doubts, err)
		}
	}
}

func TestAFaultyTableSaysWhereAndWhatToDo(t *testing.T) {
	const head = "line,day,what,amount,unit,crop,place,words\n"
	for text, want := range map[string]string{
		"":                                                   "the file is empty",
		"day,crop\n":                                         `line 1: the column "what" is missing`,
		"day,what,ammount\n":                                 `no column "ammount" (did you mean "amount"?)`,
		"day,what,day\n":                                     `"day" comes twice`,
		"\xff\xfe":                                           "CSV UTF-8",
		head + ",12/05/2027,low":                             `line 2: "12/05/2027" is no day: write it as 2027-05-12`,
		head + ",2027-02-30,low":                             `line 2: "2027-02-30" is no day of the calendar: correct it`,
		head + ",32 May,low":                                 `line 2: "32 May" is no day: write it as 2027-05-12`,
		head + ",,low":                                       "line 2: the day is missing: write it as 2027-05-12",
		head + ",2029-01-01,note":                            "has not come yet",
		head + ",2027-05-01,pickd,1,kg,leek":                 `"pickd" is nothing that the diary knows to happen (did you mean "picked"?)`,
		head + ",2027-05-01,picked,much,kg,leek":             `"much" is no amount`,
		head + ",2027-05-01,picked,NaN,kg,leek":              `"NaN" is no amount`,
		head + ",2027-05-01,picked,1,,leek":                  "has no unit: write one of g, kg",
		head + ",2027-05-01,picked,1,mm,leek":                `"mm" is no unit for "picked": use g, kg`,
		head + ",2027-05-01,weeded,1,kg,,Bed 1":              `"weeded" takes no amount`,
		head + ",2027-05-01,picked,-1,kg,leek":               "above nought",
		head + ",2027-05-01,picked,1,kg,moonfruit":           `crop "moonfruit" is not in the catalogue`,
		head + ",2027-05-01,picked":                          "name the crop",
		head + "x,2027-05-01,note":                           `"x" is no line number`,
		head + "3,2027-05-01,note\n3,2027-05-01,note":        "line 3: the number 3 stands in line 2 already",
		head + ",2027-05-01,note,,,,,one, two":               "it has 9 cells",
		head + "\"":                                          "line 2: its quotes do not close",
		head + ",x,note\n,y,note\n,2027-05-01,note\n,z,note": "line 2: \"x\" is no day: write it as 2027-05-12 (in a spreadsheet, give the column the format YYYY-MM-DD); 2 lines more with faults",
		head + ",2027-05-01,low,-90,°C":                      "cannot be",
		strings.Repeat("a", 4000):                            "has no column",
	} {
		rows, _, err := ReadCSV(strings.NewReader(text), plot(t))
		if err == nil || !strings.Contains(err.Error(), want) || rows != nil {
			t.Errorf("%.60q: got %d rows and %v, want an error with %q", text, len(rows), err, want)
		}
	}
}

// Any text gives rows that can be true, or one line of error; and rows that
// are written out come back as they are.
func FuzzReadCSV(f *testing.F) {
	c := plot(f)
	for _, seed := range []string{
		"day,what\n2027-05-12,note\n", "line;day;what;amount;unit\n1;2027-05-12;rain;0,5;in\n", "day,what,words\n2027-05-12,note,\"a\r\nb\"\n", "day,what,words\n2027-05-12,note,\"a\r\r\nb\"\n", "day,what,words\n2027-05-12,note,''=1+1\n",
		"day,what,crop,place,planting,cause,photo\n2027-05-12,lost,leek,Bed 1,noted/3,frost,photos/a.jpg\n", "\ufeffday,what,\n2027-05-12,LOW\n", "day,what\n\"", "line,day,what\n1,2027-05-12,note\n1,2027-05-12,note",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		rows, _, err := ReadCSV(strings.NewReader(text), c)
		if err != nil {
			return
		}
		for _, r := range rows {
			if r.Kind == "" || !r.Day.Known() || r.Day > c.Today {
				t.Fatalf("%q gave %+v", text, r)
			}
		}
		var out bytes.Buffer
		if err := WriteCSV(&out, rows, c.cropName); err != nil {
			t.Fatal(err)
		}
		again, _, err := ReadCSV(&out, c)
		if err != nil || len(again) != len(rows) {
			t.Fatalf("%q: %d rows came back as %d, %v", text, len(rows), len(again), err)
		}
		for i := range rows {
			rows[i].Line, again[i].Line, rows[i].Linked = 0, 0, true
			if fmt.Sprint(rows[i]) != fmt.Sprint(again[i]) {
				t.Fatalf("%q: %+v came back as %+v", text, rows[i], again[i])
			}
		}
	})
}
