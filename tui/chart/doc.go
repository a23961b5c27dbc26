// Package chart draws small charts of numbers: a range as a line with a value on it, earlier values as bars of one line, and
// a canvas for plots over time. It imports nothing of findings or horses.
package chart
