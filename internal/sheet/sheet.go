// Package sheet is paper and files for other programs: iCalendar, CSV.
package sheet
