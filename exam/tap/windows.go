package tap

// windowSeconds are the counted windows of the trade.
func windowSeconds() [3]int { return [3]int{15, 30, 60} }

// windows says what counting by ear would have shown. Beats put back by an answer are spread evenly in their gap.
func (w *work) windows(r *Result) {
	for _, seconds := range windowSeconds() {
		end := r.FirstS + float64(seconds)
		if r.LastS < end {
			break
		}
		counted := 0
		for j, g := range w.gap {
			if w.at[j] >= end {
				break
			}
			for i := 1; i <= w.beats[j]; i++ {
				at := w.at[j+1]
				if i < w.beats[j] {
					at = w.at[j] + g*float64(i)/float64(w.beats[j])
				}
				if at > end {
					break
				}
				counted++
			}
		}
		r.Windows = append(r.Windows, Window{seconds, counted, 60 * float64(counted) / float64(seconds)})
	}
}
