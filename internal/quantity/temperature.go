package quantity

import (
	"fmt"
	"strings"
)

// absoluteZero is 0 K (SI Brochure, 9th edition, 2.3.1: t/°C = T/K − 273.15).
const absoluteZero Celsius = -273.15

// FromFahrenheit is a temperature given in degrees Fahrenheit.
//
//	f  temperature, °F
//
// Source: NIST-SP811 appendix B.8 (t/°C = (t/°F − 32)/1.8).
func FromFahrenheit(f float64) Celsius { return Celsius((f - 32) / 1.8) }

// Fahrenheit is the temperature in degrees Fahrenheit.
//
// Source: NIST-SP811 appendix B.8.
func (c Celsius) Fahrenheit() float64 { return float64(c)*1.8 + 32 }

// ParseTemperature reads a temperature: "59 °F", "59F", "15 °C", "−2". A number alone is degrees
// Celsius, or Fahrenheit in the US system.
func ParseTemperature(text string, s System) (Celsius, error) {
	value, fahrenheit, wrong := scanTemperature(text, s)
	if wrong != "" {
		return 0, refuseTemperature(text, s, wrong)
	}
	c := Celsius(value)
	if fahrenheit {
		c = FromFahrenheit(value)
	}
	if c < absoluteZero {
		return 0, refuseTemperature(text, s, "it is below absolute zero")
	}
	return c, nil
}

// ParseTemperatureChange reads a difference between temperatures, so that "9 °F" is 5 °C.
func ParseTemperatureChange(text string, s System) (Celsius, error) {
	value, fahrenheit, wrong := scanTemperature(text, s)
	if wrong != "" {
		return 0, refuseTemperature(text, s, wrong)
	}
	if fahrenheit {
		value /= 1.8
	}
	return Celsius(value), nil
}

func scanTemperature(text string, s System) (value float64, fahrenheit bool, wrong string) {
	rest := tidy(text)
	sign := 1.0
	if after, ok := strings.CutPrefix(rest, "-"); ok {
		sign, rest = -1, strings.TrimLeft(after, " ")
	} else {
		rest = strings.TrimLeft(strings.TrimPrefix(rest, "+"), " ")
	}
	value, rest, wrong = scanNumber(rest)
	if wrong != "" {
		return 0, false, wrong
	}
	name := strings.TrimSpace(rest)
	for _, prefix := range []string{"°", "º", "˚", "degrees", "degree", "deg.", "deg"} {
		if after, ok := strings.CutPrefix(name, prefix); ok {
			name = strings.TrimSpace(after)
			break
		}
	}
	switch name {
	case "":
		return sign * value, s == US, ""
	case "c", "celsius", "centigrade":
		return sign * value, false, ""
	case "f", "fahrenheit":
		return sign * value, true, ""
	}
	return 0, false, fmt.Sprintf("%q is not a unit of it", name)
}

func refuseTemperature(text string, s System, wrong string) error {
	says := fmt.Sprintf("%q is not a temperature: %s", text, wrong)
	if strings.TrimSpace(text) == "" {
		says = "nothing is written where a temperature is wanted"
	}
	remedy := "write it in °C or °F, for example 15 °C (a number alone counts as °C)"
	if s == US {
		remedy = "write it in °F or °C, for example 59 °F (a number alone counts as °F)"
	}
	return &ParseError{Text: text, Says: says, Remedy: remedy}
}
