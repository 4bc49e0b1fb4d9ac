package civil

// Easter is Easter Sunday of the western churches, by the Gregorian rule. It holds from 1583 on.
//
//	golden number – 1, epact, and the days from the paschal full moon to the Sunday after it, in
//	whole numbers; no year needs an exception
//
// Source: MEEUS-1998 ch. 8.
func Easter(year int) Date {
	a, b, c := year%19, year/100, year%100
	d, e := b/4, b%4
	f := (b + 8) / 25
	g := (b - f + 1) / 3
	h := (19*a + b - d - g + 15) % 30
	i, k := c/4, c%4
	l := (32 + 2*e + 2*i - h - k) % 7
	m := (a + 11*h + 22*l) / 451
	n := h + l - 7*m + 114
	return Of(year, n/31, n%31+1)
}

// OrthodoxEaster is Easter Sunday of the churches that keep the Julian rule, as a Gregorian date.
//
// Source: MEEUS-1998 ch. 8 for the Julian rule; its date is moved by the days between the calendars,
// century − century/4 − 2.
func OrthodoxEaster(year int) Date {
	a, b, c := year%4, year%7, year%19
	d := (19*c + 15) % 30
	e := (2*a + 4*b - d + 34) % 7
	f := d + e + 114
	century := year / 100
	return Of(year, f/31, f%31+1).Add(century - century/4 - 2)
}
