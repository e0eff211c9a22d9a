package crop

// Constants are the figures that speak for the whole model and for no one
// crop. They are read from data/constants.csv, each with source and grade.
type Constants struct {
	LightFullMJ       float64 // daily global radiation (MJ/m2) above which light does not limit growth
	LightFruitMJ      float64 // … and above which it does not limit the fruit that crops of flower and fruit set
	LightNoneMJ       float64 // … and below which nothing grows
	HardenedBelowH    float64 // days shorter than this find plants hardened for winter
	SmallFromShare    float64 // of the thermal time to first picking, from which winter finds a crop worth taking small
	TooHotAboveC      float64 // above the plateau, daily mean at which growth has faded out
	StandstillBelowH  float64 // days shorter than this bring growth to a stand in the open
	FairDayC          float64 // mean of a fair growing day, against which picking moves on
	IndoorC           float64 // room in which plants are raised
	WindowLightShare  float64 // light on a window sill against the open
	HardeningOffDays  float64
	HoldDays          float64 // how long plants fit to set out can be held
	SetOutMarginC     float64 // mean night minimum above the killing cold before setting out
	SowingDepthCM     float64 // depth at which the seed bed's temperature is taken
	FieldFactorLow    float64 // share of seed that sprouts in the laboratory which comes up outdoors, rough bed
	FieldFactor       float64 // … usual
	FieldFactorHigh   float64 // … fine, warm, moist bed
	RotMarginC        float64 // soil less than this above the emergence base leaves seed lying
	RotDays           float64 // days seed can lie in soil too cold for it
	YoungUntilShare   float64 // of the thermal time to first picking: a young plant until here
	GrowingUntilShare float64 // … and in leaf until here, then in flower, filling out or nearly grown
	TubersFromShare   float64 // … from here tubers are worth lifting if the tops are cut
	LatePickShare     float64 // of the fair rate of picking, once plants are old
	StandingPickShare float64 // of the fair rate, at which a standing crop is picked in its winter rest
	PickingCapShare   float64 // of the longest usual picking, beyond which nothing is counted
	WorthPickingShare float64 // of the typical yield, below which a course gave nothing
	SetLeadDays       float64 // from flower to fit fruit
	LongestCourseDays float64 // from start to first picking; later is never
	TallFromM         float64 // height from which shade is counted

	TransplantCheckDays float64 // days a transplant stands still
	RaisedCreditShare   float64 // of the thermal time to first picking, the most that raised plants bring with them
	LeastEmergenceShare float64 // of the best germination, below which a sowing has failed

	TrayShare       float64 // of the thermal time of days in trays and pots indoors, what it is worth in the ground
	HotSpellRatio   float64 // of the days of heat that make a leaf crop run up, the days within which they must fall
	KindShare       float64 // of the spread from early to late kinds, the spread within one class
	SiteLogSD       float64 // spread of ln(thermal time to first picking) of one kind between sites and seasons
	EmergeLogSD     float64 // spread of ln(thermal time to emergence) between seed lots, where a route has no range of its own
	SiteEmergeLogSD float64 // … and between sites and seedbeds

	BulbMarginH float64 // by how much the longest day must pass the hours at which a kind of onion bulbs for the kind to be grown there

	WaterInitialShare float64 // of the time to first picking, until which a crop draws as it did when young
	WaterFullShare    float64 // … and from which as full-grown
	SeedlingRootM     float64 // depth from which a seedling draws
	SurfaceLayerM     float64 // depth that the sun dries, Ze of FAO-56 eq 73
	DroughtWindowDays float64 // before a picking, in which drought tells on it, where it is picked again and again
	DryShare          float64 // of its water, less than which leaves a plant wilted
	DryDeadDays       float64 // days wilted on end that it does not come through
	DroughtToldShare  float64 // of the crop lost, from which a drought is named

	PotCapacity         float64 // of a pot's volume, the water held after draining
	PotUnavailable      float64 // … and held too tightly for roots
	PotUseShare         float64 // of the rest, used when a pot is watered again
	PotHotC             float64 // by how much roots in a pot are warmer than the air over a hot day
	PotWinterC          float64 // by how much less winter cold kills in a pot
	PotLeastYield       float64 // of the yield in the ground, had from the least pot
	PotDoubledYield     float64 // by what the yield goes up when the pot is twice as large
	PotCanMinutes       float64 // minutes to water one pot once
	PerennialFirstShare float64 // of a full crop, in the year before the first fair one

	GardenPaceLogSD    float64 // how far gardens lie from the book in ln(thermal time), all their crops alike
	PlantingPaceLogSD  float64 // … and single plantings of one crop in one garden
	GardenYieldLogSD   float64 // the same of ln(weight)
	PlantingYieldLogSD float64

	Facts []Fact // the same figures with ranges, sources and grades
}
