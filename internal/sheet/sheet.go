// Package sheet is paper and files for other programs: PDF, iCalendar, CSV.
package sheet
