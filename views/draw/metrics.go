package draw

import "unicode/utf8"

// regular and semiBold are the advance widths of Barlow's characters 32 to 126, in thousandths of the type size, read
// from the font files that the program ships. Figures are the proportional ones, which text uses unless it asks for others.
var (
	regular = [95]int{
		200, 319, 263, 659, 559, 848, 658, 132, 261, 261, 397, 500, 264, 394, 278, 400, 565, 350, 536,
		515, 551, 514, 515, 473, 521, 521, 339, 311, 500, 500, 500, 461, 827, 607, 627, 607, 618, 605,
		568, 613, 654, 259, 577, 611, 568, 715, 676, 622, 592, 576, 612, 584, 569, 648, 589, 878, 589,
		567, 549, 380, 400, 380, 450, 484, 195, 511, 546, 520, 546, 533, 356, 535, 539, 255, 245, 501,
		230, 827, 539, 545, 552, 552, 364, 481, 364, 536, 475, 721, 477, 461, 445, 302, 166, 302, 501,
	}
	semiBold = [95]int{
		200, 335, 325, 677, 567, 833, 688, 155, 316, 316, 398, 491, 265, 404, 273, 447, 568, 353, 551,
		531, 585, 530, 529, 488, 533, 527, 355, 314, 491, 491, 491, 500, 821, 648, 622, 608, 618, 592,
		563, 613, 637, 262, 581, 620, 571, 715, 669, 621, 595, 587, 613, 591, 579, 636, 610, 878, 616,
		599, 554, 403, 447, 403, 465, 509, 219, 522, 559, 531, 559, 541, 376, 549, 544, 255, 251, 522,
		239, 829, 544, 556, 563, 563, 376, 493, 374, 541, 504, 761, 516, 489, 455, 350, 190, 350, 522,
	}
)

// otherWidth stands for a character outside the table, in thousandths of the type size: about a lower-case letter.
const otherWidth = 550

// fractionScale is the width of a figure within a fraction against a full one; Barlow's are between 0.52 and 0.61.
const fractionScale = 0.6

// TextWidth is the width in millimetres of a text set in the program's typeface at the size, fractions as fractions. It
// leaves out kerning and is within a few hundredths of the true width.
func TextWidth(body string, size float64, bold bool) float64 {
	table := &regular
	if bold {
		table = &semiBold
	}
	sum := 0.0
	for _, run := range Runs(body) {
		scale := 1.0
		if run.Kind == Fraction {
			scale = fractionScale
		}
		for _, r := range run.Body {
			w := otherWidth
			if r >= ' ' && r < utf8.RuneSelf-1 {
				w = table[r-' ']
			}
			sum += float64(w) * scale
		}
	}
	return sum * size / 1000
}
