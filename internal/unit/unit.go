package unit

// Celsius is a temperature in degrees Celsius.
type Celsius float64

// Fahrenheit is a temperature in degrees Fahrenheit.
type Fahrenheit float64

// Millimetre is a depth of rain or water.
type Millimetre float64

// Centimetre is a short length, such as a spacing.
type Centimetre float64

// Inch is 25.4 mm by definition (international yard and pound agreement, 1959).
type Inch float64

// Metre is a length.
type Metre float64

// Foot is 12 inches.
type Foot float64

// Kilogram is a mass.
type Kilogram float64

// Pound is the avoirdupois pound.
type Pound float64

const (
	mmPerInch  = 25.4       // exact, 1959 agreement
	mPerFoot   = 0.3048     // exact, 1959 agreement
	kgPerPound = 0.45359237 // exact, 1959 agreement
)

// Fahrenheit converts to the other scale.
func (c Celsius) Fahrenheit() Fahrenheit { return Fahrenheit(float64(c)*9/5 + 32) }

// Celsius converts to the other scale.
func (f Fahrenheit) Celsius() Celsius { return Celsius((float64(f) - 32) * 5 / 9) }

// Inches converts a depth.
func (mm Millimetre) Inches() Inch { return Inch(float64(mm) / mmPerInch) }

// Inches converts a short length.
func (cm Centimetre) Inches() Inch { return Inch(float64(cm) * 10 / mmPerInch) }

// Millimetres converts a depth.
func (in Inch) Millimetres() Millimetre { return Millimetre(float64(in) * mmPerInch) }

// Centimetres converts a short length.
func (in Inch) Centimetres() Centimetre { return Centimetre(float64(in) * mmPerInch / 10) }

// Feet converts a length.
func (m Metre) Feet() Foot { return Foot(float64(m) / mPerFoot) }

// Metres converts a length.
func (ft Foot) Metres() Metre { return Metre(float64(ft) * mPerFoot) }

// Pounds converts a mass.
func (kg Kilogram) Pounds() Pound { return Pound(float64(kg) / kgPerPound) }

// Kilograms converts a mass.
func (lb Pound) Kilograms() Kilogram { return Kilogram(float64(lb) * kgPerPound) }
