// Package water is reference evapotranspiration, crop demand, the root-zone balance.
package water
