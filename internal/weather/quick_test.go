package weather

import "kailyard/internal/quantity"

func celsius(v float64) quantity.Celsius       { return quantity.Celsius(v) }
func millimetre(v float64) quantity.Millimetre { return quantity.Millimetre(v) }
