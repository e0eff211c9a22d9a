package diary

import (
	"math"
	"strings"
	"testing"

	"haulm/internal/calendar"
	"haulm/internal/crop"
	"haulm/internal/garden"
)

func on(text string) calendar.Date {
	d, err := calendar.Parse(text)
	if err != nil {
		panic(err)
	}
	return d
}

// plot is a small garden in which a few things grow on 20 August 2027.
func plot(tb testing.TB) Context {
	tb.Helper()
	catalogue, err := crop.Load()
	if err != nil {
		tb.Fatal(err)
	}
	bed := func(name string) garden.Place {
		return garden.Place{Name: name, Kind: garden.Bed, LengthM: 4, WidthM: 1.2}
	}
	c := Context{
		Today: on("2027-08-20"), Catalogue: catalogue,
		Places: []garden.Place{bed("Bed 1"), bed("Bed 2"), bed("Bed 12"), bed("Wall border"), {Name: "Yard pots", Kind: garden.Pots, Pots: 4, Litres: 40}},
		Standing: []Standing{
			{Key: "courgette-bed2", Crop: "courgette", Place: "Bed 2", Begun: on("2027-05-01")},
			{Key: "onion-bed1", Crop: "onion_autumn_sets", Place: "Bed 1", Begun: on("2026-09-28")},
			{Key: "beans-wall", Crop: "runner_bean", Place: "Wall border", Begun: on("2027-05-20")},
			{Key: "lettuce-bed12", Crop: "lettuce_head", Place: "Bed 12", Begun: on("2027-04-10"), Cleared: on("2027-07-01")},
			{Key: "carrot-bed1", Crop: "carrot_main", Place: "Bed 1", Begun: on("2027-05-12")},
			{Key: "tomato-pots", Crop: "tomato_cordon", Place: "Yard pots", Begun: on("2027-03-20")},
			{Key: "tomato-wall", Crop: "tomato_cordon", Place: "Wall border", Begun: on("2027-03-20")},
			{Key: "corn-salad-bed12", Crop: "corn_salad", Place: "Bed 12", Planned: on("2027-09-06")},
		},
	}
	for i := range c.Standing {
		s := &c.Standing[i]
		for _, d := range []*calendar.Date{&s.Planned, &s.Begun, &s.Cleared} {
			if *d == 0 {
				*d = calendar.None
			}
		}
	}
	return c
}

func TestLinesAreUnderstoodInAnyOrder(t *testing.T) {
	c := plot(t)
	courgette := Entry{Kind: Picked, Day: c.Today, Place: "Bed 2", Crop: "courgette", Planting: "courgette-bed2", Amount: 800, Unit: Gram}
	with := func(change func(*Entry)) Entry { e := courgette; change(&e); return e }
	for line, want := range map[string]Entry{
		"picked 800 g courgettes bed 2":             courgette,
		"courgettes bed 2 picked 800g":              courgette,
		"Bed 2: 800 g zucchini harvested":           courgette,
		"800g of courgettes picked from Bed 2":      courgette,
		"picked courgettes, 800 grams":              courgette,
		"picked 0.8 kg courgette yesterday":         with(func(e *Entry) { e.Amount, e.Unit, e.Day = 0.8, Kilogram, on("2027-08-19") }),
		"picked 0,8 kg courgette on 12 August":      with(func(e *Entry) { e.Amount, e.Unit, e.Day = 0.8, Kilogram, on("2027-08-12") }),
		"Aug 12th picked a basin of zucchinis":      with(func(e *Entry) { e.Amount, e.Unit, e.Day = 1, Basin, on("2027-08-12") }),
		"picked half a basin of courgettes":         with(func(e *Entry) { e.Amount, e.Unit = 0.5, Basin }),
		"2027-08-01 picked 3 lb 4 oz courgettes":    with(func(e *Entry) { e.Amount, e.Unit, e.Day = 3.25, Pound, on("2027-08-01") }),
		"picked 6 courgettes on Monday":             with(func(e *Entry) { e.Amount, e.Unit, e.Day = 6, Count, on("2027-08-16") }),
		"picked courgettes 3 days ago; a good lot":  with(func(e *Entry) { e.Amount, e.Unit, e.Day, e.Text = 0, NoUnit, on("2027-08-17"), "a good lot" }),
		"picked 12 courgettes 2 kg":                 with(func(e *Entry) { e.Amount, e.Unit, e.Text = 2, Kilogram, "12 of them." }),
		"lost 2 courgettes to slugs":                with(func(e *Entry) { e.Kind, e.Amount, e.Unit, e.Cause = Lost, 2, Count, "slugs" }),
		"lost half the courgettes to slugs":         with(func(e *Entry) { e.Kind, e.Amount, e.Unit, e.Cause = Lost, 50, Percent, "slugs" }),
		"lost courgettes frosted":                   with(func(e *Entry) { e.Kind, e.Amount, e.Unit, e.Cause = Lost, 0, NoUnit, "frost" }),
		"lost 2 courgettes slugs yesterday":         with(func(e *Entry) { e.Kind, e.Amount, e.Unit, e.Cause, e.Day = Lost, 2, Count, "slugs", on("2027-08-19") }),
		"lost a quarter of the courgettes":          with(func(e *Entry) { e.Kind, e.Amount, e.Unit = Lost, 25, Percent }),
		"lost 30% of courgettes":                    with(func(e *Entry) { e.Kind, e.Amount, e.Unit = Lost, 30, Percent }),
		"watered bed 2 3 cans":                      with(func(e *Entry) { e.Kind, e.Amount, e.Unit = Watered, 3, Can }),
		"watered courgettes 20 min hose":            with(func(e *Entry) { e.Kind, e.Amount, e.Unit = Watered, 20, HoseMinute }),
		"watered bed 1 40 l":                        {Kind: Watered, Day: c.Today, Place: "Bed 1", Amount: 40, Unit: Litre},
		"watered bed 12 two cans":                   {Kind: Watered, Day: c.Today, Place: "Bed 12", Amount: 2, Unit: Can},
		"rain 12 mm":                                {Kind: Rain, Day: c.Today, Amount: 12, Unit: Millimetre},
		"rain gauge 0.5 in yesterday":               {Kind: Rain, Day: on("2027-08-19"), Amount: 0.5, Unit: Inch},
		"low -2":                                    {Kind: Low, Day: c.Today, Amount: -2, Unit: Celsius},
		"night low 28 f":                            {Kind: Low, Day: c.Today, Amount: 28, Unit: Fahrenheit},
		"low −1.5 °C":                               {Kind: Low, Day: c.Today, Amount: -1.5, Unit: Celsius},
		"lifted onions 9 kg":                        {Kind: Picked, Day: c.Today, Place: "Bed 1", Crop: "onion_autumn_sets", Planting: "onion-bed1", Amount: 9, Unit: Kilogram},
		"cleared bed 12 1 July":                     {Kind: Cleared, Day: on("2027-07-01"), Place: "Bed 12", Crop: "lettuce_head", Planting: "lettuce-bed12"},
		"carrots are up 1 June":                     {Kind: Up, Day: on("2027-06-01"), Place: "Bed 1", Crop: "carrot_main", Planting: "carrot-bed1"},
		"courgettes in flower bed 2 1 July":         with(func(e *Entry) { e.Kind, e.Amount, e.Unit, e.Day = Flowering, 0, NoUnit, on("2027-07-01") }),
		"first flowers on the runner beans":         {Kind: Flowering, Day: c.Today, Place: "Wall border", Crop: "runner_bean", Planting: "beans-wall"},
		"tomatoes flowering yard yesterday":         {Kind: Flowering, Day: on("2027-08-19"), Place: "Yard pots", Crop: "tomato_cordon", Planting: "tomato-pots"},
		"sown lamb's lettuce bed 12 today":          {Kind: Sown, Day: c.Today, Place: "Bed 12", Crop: "corn_salad", Planting: "corn-salad-bed12"},
		"picked beans wall 1 kg":                    {Kind: Picked, Day: c.Today, Place: "Wall border", Crop: "runner_bean", Planting: "beans-wall", Amount: 1, Unit: Kilogram},
		"pinched out tomatoes yard":                 {Kind: PinchedOut, Day: c.Today, Place: "Yard pots", Crop: "tomato_cordon", Planting: "tomato-pots"},
		"note: swallows are gathering over Bed 2":   {Kind: Note, Day: c.Today, Place: "Bed 2", Text: "swallows are gathering over Bed 2"},
		"earthed up leeks bed 2":                    {Kind: EarthedUp, Day: c.Today, Place: "Bed 2", Crop: "leek"},
		"stored 8 kg onions":                        {Kind: Stored, Day: c.Today, Place: "Bed 1", Crop: "onion_autumn_sets", Planting: "onion-bed1", Amount: 8, Unit: Kilogram},
		"picked 1,200 g runner beans":               {Kind: Picked, Day: c.Today, Place: "Wall border", Crop: "runner_bean", Planting: "beans-wall", Amount: 1200, Unit: Gram},
		"lost courgettes bed 2 by frost 20 August":  with(func(e *Entry) { e.Kind, e.Amount, e.Unit, e.Cause = Lost, 0, NoUnit, "frost" }),
		"fed tomatoes wall border 2 cans yesterday": {Kind: Fed, Day: on("2027-08-19"), Place: "Wall border", Crop: "tomato_cordon", Planting: "tomato-wall", Amount: 2, Unit: Can},
	} {
		got, _, err := ParseLine(line, c)
		if err != nil {
			t.Errorf("%q: %v", line, err)
			continue
		}
		if got != want {
			t.Errorf("%q:\n got %+v\nwant %+v", line, got, want)
		}
	}
}

func TestLinesThatCannotBeSayWhy(t *testing.T) {
	c := plot(t)
	for line, want := range map[string]string{
		"":                                   "empty",
		"   ":                                "empty",
		"800 g courgettes":                   "what happened?",
		"pickd 800 g courgettes":             `did you mean "picked"`,
		"picked 800 g moonfruit bed 2":       `cannot make out "moonfruit"`,
		"picked 800 g corgettes bed 2":       `"courgette"`,
		"picked 800 g courgettes bed 7":      `no place is called "bed 7"`,
		"picked 900 kg radish bed 2":         "more than Bed 2 could give",
		"picked 2 kg lettuce bed 12":         "was cleared on 1 July",
		"picked 2 kg courgettes 1 April":     "cannot have been picked on 1 April",
		"picked 2 kg courgettes bed 1":       "it grows in Bed 2",
		"picked 1 kg tomatoes":               "name the place",
		"picked 1 kg bed 1":                  "name the one",
		"picked 1 kg courgettes 24 August":   "has not come yet",
		"picked 1 kg courgettes tomorrow":    "21 August 2027 has not come yet",
		"picked 1 kg courgettes 2027-13-40":  "no day of the calendar",
		"picked 1 kg courgettes 31 June":     `"31 June" is no day: June 2027 has no day 31; correct it, such as 12 June`,
		"picked 1 kg courgettes 32 May":      `"32 May" is no day: May 2027 has no day 32`,
		"picked 1 kg courgettes May 99th":    `"May 99th" is no day: May 2027 has no day 99`,
		"picked 1 kg courgettes 0 May":       `"0 May" is no day`,
		"picked 1 kg courgettes in May":      `cannot make out "May" (which day of it? write it as 12 May)`,
		"picked 1 kg courgettes May 2027":    "which day of it?",
		"lost 120 % courgettes":              "give 100 or less",
		"picked half the courgettes":         `cannot make out "half"`,
		"picked 3 mm courgettes":             "no unit",
		"picked -3 kg courgettes":            "above nought",
		"picked corn salad bed 12":           "is to be begun on 6 September 2027",
		"rain":                               "rain 12 mm",
		"rain 4 kg":                          "no unit",
		"rain 30000 mm":                      "cannot be",
		"low -90":                            "cannot be",
		"sown":                               "name the crop",
		"watered":                            "name the place",
		"watered bed 2 900000 l":             "more than the ground could take",
		"picked 1 kg 2 l courgettes":         "no unit",
		"picked yesterday 12 August":         "two days",
		"picked 2 kg 3 kg courgettes":        "another amount",
		"weeded bed 2 3 kg":                  "no unit",
		"flowering":                          "name the crop",
		"flowering bed 1":                    "name the one",
		"flowering 3 kg courgettes":          "no unit",
		"courgettes flowering 1 April":       "cannot have been flowering on 1 April",
		strings.Repeat("picked ", 400):       "longer than",
		"picked \xff\xfe courgettes":         "no line of text",
		"picked 800 g courgettes bed 2 blah": `understood: picked, 800 g, Courgette, Bed 2; cannot make out "blah"`,
	} {
		got, _, err := ParseLine(line, c)
		if err == nil {
			t.Errorf("%q was kept as %+v, want an error with %q", line, got, want)
			continue
		}
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %q, want a word on %q", line, err, want)
		}
		if strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: the error has several lines: %q", line, err)
		}
	}
}

// "Potatoes" are those of the plan, though second earlies count as another
// dish than the maincrop, which the word usually means.
func TestANameMeansTheKindThatIsPlanned(t *testing.T) {
	c := plot(t)
	c.Standing = append(c.Standing, Standing{Key: "potato-bed2", Crop: "potato_second_early", Place: "Bed 2", Planned: on("2027-08-01"), Begun: calendar.None, Cleared: calendar.None})
	for _, line := range []string{"planted potatoes", "planted potatoes bed 2", "sown spuds bed 2"} {
		if e, _, err := ParseLine(line, c); err != nil || e.Planting != "potato-bed2" || e.Crop != "potato_second_early" {
			t.Errorf("%q: %+v, %v", line, e, err)
		}
	}
	if e, _, err := ParseLine("planted potatoes bed 1", c); err != nil || e.Crop != "potato_maincrop" || e.Planting != "" {
		t.Errorf("where none is planned: %+v, %v", e, err)
	}
}

// Plants wait indoors; another row of them is planned for the day on which they
// go out.
func TestPlantingOutSpeaksOfWhatWaitsIndoors(t *testing.T) {
	c := plot(t)
	onion := func(key string, planned, begun calendar.Date) Standing {
		return Standing{Key: key, Crop: "onion_multisown", Place: "Bed 2", Planned: planned, Begun: begun, Cleared: calendar.None, Indoors: begun.Known()}
	}
	c.Standing = []Standing{
		onion("later", on("2027-08-20"), calendar.None), onion("second", on("2027-06-20"), on("2027-06-20")), onion("first", on("2027-06-01"), on("2027-06-01")),
	}
	planted := func() string {
		t.Helper()
		e, _, err := ParseLine("planted onions bed 2", c)
		if err != nil {
			t.Fatal(err)
		}
		return e.Planting
	}
	if got := planted(); got != "first" {
		t.Errorf("of two that wait, %q was set out", got)
	}
	c.Standing[1].Indoors, c.Standing[2].Indoors = false, false
	if got := planted(); got != "later" {
		t.Errorf("where none waits, %q was set out", got)
	}
}

func TestUnknownPlantingIsKeptWithADoubt(t *testing.T) {
	_, doubts, err := ParseLine("picked 300 g rocket bed 2", plot(t))
	if err != nil || len(doubts) != 1 || !strings.Contains(doubts[0], "Rocket") {
		t.Errorf("got doubts %q, %v", doubts, err)
	}
}

// Flowers on what is eaten before it flowers mean something else, and are told
// of; on what fruits, or bulbs in its second year, they are nothing odd.
func TestFlowersOfLeafCropsAreDoubted(t *testing.T) {
	c := plot(t)
	c.Standing = append(c.Standing, Standing{Key: "spinach-bed2", Crop: "spinach", Place: "Bed 2", Planned: on("2027-03-01"), Begun: on("2027-03-01"), Cleared: calendar.None})
	for line, doubts := range map[string]int{"spinach flowering": 1, "courgettes flowering": 0, "beans flowering wall": 0} {
		e, got, err := ParseLine(line, c)
		if err != nil || e.Kind != Flowering || len(got) != doubts || doubts == 1 && !strings.Contains(got[0], "run to seed") {
			t.Errorf("%q: %+v, %q, %v", line, e, got, err)
		}
	}
}

// Units by definition: pound and inch of 1959, British gallon of 1985.
func TestAmountsConvert(t *testing.T) {
	for _, c := range []struct {
		got, want float64
		what      string
	}{
		{Entry{Amount: 3.25, Unit: Pound}.Kg(), 1.474, "3 lb 4 oz"},
		{Entry{Amount: 16, Unit: Ounce}.Kg(), 0.4536, "16 oz"},
		{Entry{Amount: 500, Unit: Gram}.Kg(), 0.5, "500 g"},
		{Entry{Amount: 1, Unit: Gallon}.Litres(), 4.546, "a gallon"},
		{Entry{Amount: 3, Unit: Can}.Litres(), 30, "three cans"},
		{Entry{Amount: 0.5, Unit: Inch}.RainMM(), 12.7, "half an inch"},
		{Entry{Amount: 28, Unit: Fahrenheit}.TempC(), -2.222, "28 °F"},
		{Entry{Amount: 5, Unit: Count}.Kg(), math.NaN(), "five"},
	} {
		if math.Abs(c.got-c.want) > 0.001 || math.IsNaN(c.got) != math.IsNaN(c.want) {
			t.Errorf("%s: got %g, want %g", c.what, c.got, c.want)
		}
	}
}

// Whatever is typed gives an entry that can be true or one line of error.
func FuzzParseLine(f *testing.F) {
	c := plot(f)
	c.Places = append(c.Places, garden.Place{Name: "The long bed beside the (greenhouse) wall", Kind: garden.Bed, LengthM: 4, WidthM: 1.2})
	for _, seed := range []string{
		"picked 800 g courgettes bed 2", "low -2", "rain 0.5 in yesterday", "note: x", "lost 3 lettuces to slugs; alas", "sown carrots 12 May 2027",
		"½ basin", "12th of of May", "bed 2 bed 2", "a dozen a half 3", "2027-02-30", "picked 1e309 kg leeks", "to to to lost by", "−−3", "3,,4.5.6 kg",
		"sown onion the", "sown Onion (multi-sown modules) in the long", "watered the greenh wall 3 the cans", "sown radish bed", "the the the",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, line string) {
		e, _, err := ParseLine(line, c)
		if err != nil {
			if strings.Contains(err.Error(), "\n") && !strings.Contains(line, "\n") {
				t.Errorf("error of several lines: %q", err)
			}
			return
		}
		if e.Kind == "" || !e.Day.Known() || e.Day > c.Today && e.Kind != Note || math.IsNaN(e.Amount) || math.IsInf(e.Amount, 0) {
			t.Errorf("%q gave %+v", line, e)
		}
		if e.Kind != Note {
			if _, err := Check(e, c); err != nil {
				t.Errorf("%q was kept, but Check says %v", line, err)
			}
		}
	})
}
