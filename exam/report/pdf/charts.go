package pdf

import (
	"loosebox/exam/report"
	"loosebox/exam/report/chart"
)

func (f *flow) charts(list []chart.Series) {
	for i, s := range list {
		if i == 0 {
			f.blockBefore(report.Block{Heading: "over time", Lines: []report.BlockLine{{Text: chart.Legend}}}, chart.Height+6)
		}
		f.need(chart.Height + 6)
		s.Title = f.known(s.Title)
		chart.Draw(canvas{f.paper}, f.x(), f.y+4, s)
		f.y += chart.Height + 6
	}
}
