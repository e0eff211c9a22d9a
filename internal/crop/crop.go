package crop

// Crop is everything the catalogue knows of one crop. Plain numbers carry
// their unit in their name; Facts holds the same figures with their ranges,
// sources and grades of trust, and is where they are read from.
type Crop struct {
	Key           string // catalogue key, e.g. french_bean_bush
	Name          string // usual British name
	OtherNames    []string
	Botanical     string
	Family        string // botanical family, e.g. Fabaceae
	RotationGroup string
	RotationYears int      // years before the group returns to the same ground
	Dish          string   // what the table calls it; crops of one dish share an appetite and a store
	GenericNames  []string // what people call several crops, when this one is usually meant: "potato"
	Perennial     bool     // stands for years; carried as a standing crop, not sown each year
	FirstCropYear int      // perennials: year after planting of the first fair crop
	Tall          bool     // casts a shade that matters (1.2 m and over)
	HeightM       float64
	SunHours      float64 // least direct sun a day for a full crop

	Classes     []Class
	Routes      []Route
	Germination Germination
	Growth      Growth
	Hardiness   []Hardiness // in the order young, growing, flowering, standing, wintering; not every crop has all
	Bolting     Bolting
	Heat        Heat
	DayLength   DayLength
	Picking     Picking
	Yield       Yield
	Water       Water
	Keeping     Keeping
	Portion     Portion
	Labour      Labour
	Seed        Seed

	Cautions []Caution
	Facts    []Fact
}

// Class is a cultivar class by earliness: early, mid or late.
type Class struct {
	Name            string
	ToFirstPickCDay float64 // thermal time from Growth.From to first picking
	LogSD           float64 // spread of ln(thermal time) between cultivars of the class
}

// Route is one way to raise a crop.
type Route struct {
	Key   string // drilled, station, module, multisown, pot, sets, autumn_sets, tubers, cloves
	Name  string // as a gardener says it: "drilled", "in modules"
	Usual bool   // the one meant when nobody says

	Raised        bool // started indoors and set out later
	RaiseC        float64
	RaiseWeeksMin float64
	RaiseWeeksMax float64
	RaiseCDay     float64 // thermal time above Growth.BaseC from sowing until fit to set out
	CellsPerPlant float64 // room in the 40-cell tray for one plant: 1 in a module, 1/seedlings multi-sown, 2.2 in a 9 cm pot

	Vegetative     bool // a set, tuber or clove: emergence needs heat but no germination
	SowDepthCM     float64
	SeedsPerPlant  float64 // seeds sown for one plant wanted, before losses
	InRowCM        float64
	BetweenRowCM   float64
	PlantsPerM2    float64 // at that spacing, all seedlings of a station counted
	PerStation     float64 // plants standing together: 1, or the clump of a multi-sown module
	BedCM          float64 // spacing each way for planting on the square in a bed; 0 = use rows
	FromMonthDay   string  // earliest usual start in the north, MM-DD; "" = any
	ToMonthDay     string  // latest usual start in the north, MM-DD; "" = any
	CostPerPlant   float64
	PotMinLitres   float64 // least pot for one plant; 0 = not for pots
	EmergeBaseC    float64
	EmergeCDay     float64 // 50 % field emergence
	EmergeLogSD    float64 // spread of ln(EmergeCDay) between seed lots, seedbeds and sites; the fact's range, where it has one, is of fields and holds all three
	AfterWinterKey string  // Hardiness stage to use while it stands through winter, "" = the first
}

// PlantsPerPot is how many plants that want so many litres each have room in a
// pot; 0 where they want none, not being for pots. A millionth of a litre
// forgives rounding.
func PlantsPerPot(potLitres, eachLitres float64) int {
	if !(eachLitres > 0) {
		return 0
	}
	return int((potLitres + 1e-6) / eachLitres)
}

// Germination is what seed needs of the soil.
type Germination struct {
	MinSoilC float64 // below: seed lies and rots
	OptLowC  float64
	OptHighC float64
	MaxSoilC float64 // above: no germination
	// PercentAt is normal seedlings of viable seed at 0, 5, 10 … 40 °C;
	// empty where unmeasured.
	PercentAt []float64
}

// Growth is development by thermal time: daily mean air temperature above
// BaseC, capped at PlateauC, summed from the From stage.
type Growth struct {
	BaseC    float64
	PlateauC float64
	HotC     float64 // daily mean from which development is slowed by heat; PlateauC where the table gives none
	From     string  // emergence, transplant, planting, or (perennials) new year

	// Of a plant that has stood through a winter (perennials only).
	StandingCDay float64 // from the new year to first picking; 0 = as the classes say
	RestDays     float64 // days of winter cold without which it does not come away; 0 = it wants none
	RestBelowC   float64 // daily mean that counts as such
}

// Hardiness is what cold does to a crop at a stage; short exposure of a
// hardened plant without cover, air temperature.
type Hardiness struct {
	Stage    string  // young, growing, flowering, wintering, standing
	DamageC  float64 // growth is checked
	KillC    float64
	Regrows  bool // cut to the ground but comes again (potato)
	SetbackD float64
}

// Bolting is flowering brought on by cold after a juvenile phase.
// A zero ColdDays means the crop does not bolt from cold.
type Bolting struct {
	ChillMaxC      float64 // a day counts when its mean is below this …
	ChillMinC      float64 // … and above this
	ColdDays       float64 // days of chill that bring it on
	JuvenileCDay   float64 // thermal time after Growth.From before cold (or long days, when they suffice) counts
	LongDayH       float64 // it shows when days are longer than this; 0 = any
	ResetC         float64 // a day mean above this undoes a day of chill; 0 = never
	WantedForCrop  bool    // no crop without the cold (sprouting broccoli, garlic bulbs)
	ByLongDayAlone bool    // long days suffice (spinach, rocket)
	DaysToBolt     float64 // days from trigger until no longer fit to pick
}

// Heat is what hot days do.
type Heat struct {
	SetStopsMaxC float64 // fruit set fails above this daily maximum; 0 = no limit
	SetStopsMinC float64 // fruit set fails below this night minimum; 0 = no limit
	BoltsMeanC   float64 // daily mean above which leaf crops run to seed; 0 = never
	BoltsDays    float64 // how many such days it takes
}

// DayLength gates development by hours of daylight: bulbs wait for long days,
// tubers of short-day plants for short ones.
type DayLength struct {
	BulbsAboveH     float64 // bulbing waits for days longer than this; 0 = no gate
	MiddleAboveH    float64 // … of kinds for middling latitudes; 0 = there are none
	ShortAboveH     float64 // … of kinds for low latitudes; 0 = there are none
	BulbsAfterCDay  float64 // and for this thermal time
	TubersBelowH    float64 // tubers wait for days shorter than this; 0 = no gate
	TubersAfterCDay float64 // and for this thermal time
}

// Picking is how the crop is taken.
type Picking struct {
	Pattern string  // single, repeated, cut-and-come-again
	Days    float64 // usual span at harvest in growing weather
	DaysMin float64
	DaysMax float64
	Small   bool // fit to take before its full size, when winter stops it
	Stands  bool // keeps in the ground without spoiling while it is cold (leek, parsnip, kale)

	EveryDays      float64 // how often it is picked over; 0 = nothing is said of it
	NeglectedShare float64 // of the crop still borne, after the first flush, by plants picked over half as often or less; 0 = it does not mind
}

// Yield is harvested weight before kitchen trimming.
type Yield struct {
	LowKgM2     float64 // a poor hand
	TypicalKgM2 float64
	HighKgM2    float64
	RefPlantsM2 float64 // the density these speak for
}

// Water holds the FAO-56 figures.
type Water struct {
	KcIni, KcMid, KcEnd float64
	RootMinM, RootMaxM  float64
	Depletion           float64 // fraction p of TAW
	Ky                  float64
	CriticalStage       string
	CriticalFromShare   float64 // of the time from coming up to first picking, from which that stage runs
	CriticalKy          float64 // Ky of that stage alone; 0 = none is known, Ky stands for it
}

// Keeping is life after picking, at the home method's conditions.
type Keeping struct {
	Method     string
	Curing     string // what to do before storing; "" = nothing
	LifeLowD   float64
	LifeHighD  float64
	Stored     bool    // kept for months (onions, maincrop potatoes, squash)
	WeeklyKeep float64 // share of a store still good a week later, 0..1: exp(-7/mean life in days)
}

// Portion is what one portion at table is.
type Portion struct {
	Grams      float64 // edible
	EdiblePC   float64 // of harvested weight
	KcalPer100 float64
}

// Labour is minutes of work.
type Labour struct {
	SowPerM2    float64 // sowing or planting in place, per m2 of bed
	RaisePerM2  float64 // indoors per m2 of bed it will fill
	SetOutPerM2 float64
	TendPerM2W  float64 // hoeing, tying, watering, per m2 and week
	PickPerKg   float64
	ClearPerM2  float64
	WaterPerM2W float64 // of TendPerM2W, the cans in open ground
}

// Seed is what the tin needs to know.
type Seed struct {
	LifeYears float64 // kept dry and cool; 0 = not grown from kept seed
	PerGram   float64 // seeds in a gram; 0 = not known
}

// Caution is where the work or the food can hurt.
type Caution struct {
	Situation  string // raw pods; green tubers; sap on skin
	Precaution string
	Source     string
	Grade      Grade
}

// Grade says how far a figure can be trusted.
type Grade string

// The grades, from best to worst.
const (
	Seen       Grade = "S"  // seen in the cited source
	SeenPart   Grade = "SM" // one part seen, one from memory
	Derived    Grade = "D"  // arithmetic on seen figures
	FromMemory Grade = "M"  // from memory of the source named
	Practice   Grade = "P"  // common practice, no source
	Estimate   Grade = "E"  // our estimate, proxy or model choice
)

// Fact is one figure with where it comes from.
type Fact struct {
	Name   string // growth.base_c
	Unit   string
	Low    float64 // NaN where the sources give one value
	Value  float64
	High   float64
	Text   string // for facts that are words
	Source string // key into Sources, or "common practice", "from memory"
	Grade  Grade
	Note   string
}
