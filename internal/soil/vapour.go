package soil

import "math"

// PressureKPa is the mean air pressure at a height above the sea. FAO-56 eq 7.
func PressureKPa(elevM float64) float64 {
	return 101.3 * math.Pow((293-0.0065*elevM)/293, 5.26)
}

// PsychrometricKPa is the psychrometric constant, kPa/°C, at an air pressure.
// FAO-56 eq 8.
func PsychrometricKPa(pressureKPa float64) float64 { return 0.665e-3 * pressureKPa }

// SaturationKPa is the vapour pressure of saturated air. FAO-56 eq 11; eq 14
// when given the dew point.
func SaturationKPa(tempC float64) float64 {
	return 0.6108 * math.Exp(17.27*tempC/(tempC+237.3))
}

// MeanSaturationKPa is the day's mean saturation vapour pressure. FAO-56 eq 12:
// the mean of the two ends, not the pressure at the mean.
func MeanSaturationKPa(minC, maxC float64) float64 {
	return (SaturationKPa(minC) + SaturationKPa(maxC)) / 2
}

// SaturationSlopeKPa is the slope of the saturation curve, kPa/°C. FAO-56 eq 13.
func SaturationSlopeKPa(tempC float64) float64 {
	return 4098 * SaturationKPa(tempC) / ((tempC + 237.3) * (tempC + 237.3))
}

// VapourFromHumiditiesKPa is the actual vapour pressure by the day's highest
// and lowest relative humidity. FAO-56 eq 17.
func VapourFromHumiditiesKPa(minC, maxC, humidMinPC, humidMaxPC float64) float64 {
	return (SaturationKPa(minC)*humidMaxPC + SaturationKPa(maxC)*humidMinPC) / 200
}

// VapourFromMaxHumidityKPa is the actual vapour pressure by the day's highest
// relative humidity alone. FAO-56 eq 18.
func VapourFromMaxHumidityKPa(minC, humidMaxPC float64) float64 {
	return SaturationKPa(minC) * humidMaxPC / 100
}

// VapourFromMeanHumidityKPa is the actual vapour pressure by the day's mean
// relative humidity. FAO-56 eq 19.
func VapourFromMeanHumidityKPa(minC, maxC, humidMeanPC float64) float64 {
	return humidMeanPC / 100 * MeanSaturationKPa(minC, maxC)
}

// VapourFromMinKPa stands in where no humidity is known: dew is taken to form
// at the day's lowest temperature. FAO-56 eq 48. Too damp for deserts, where
// the dew point lies 2 to 3 °C lower.
func VapourFromMinKPa(minC float64) float64 { return SaturationKPa(minC) }
