// Package chart draws one finding over a horse's visits: what is usual as a band,
// the horse's own range, and the values. It draws on a Canvas of a few strokes, so
// that a page of HTML and a PDF show the same chart.
package chart
