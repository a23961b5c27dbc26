// Package chart draws numbers small: a range as a line with a value on it, and earlier values as a line of heights. It
// knows no finding and no horse.
package chart
