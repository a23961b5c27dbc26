package weight

import "loosebox/ranges"

// Works lists what the equations were read in, each once, with its tier: no
// equation carries stronger evidence than the weakest of its works. An equation
// of which a constant is from memory is from memory, whatever its work. A paper
// whose figures were read on a page of the press or of a company has that page's tier.
func Works() ranges.Sources {
	return ranges.Sources{
		{Code: "aluja", Tier: published, Text: "de Aluja et al., Trop Anim Health Prod 2005, doi 10.1007/s11250-005-9007-0 (abstract)"},
		{Code: "carroll", Tier: published, Text: "Carroll & Huntington, Equine Vet J 1988, doi 10.1111/j.2042-3306.1988.tb01451.x (abstract)"},
		{Code: "catalano", Tier: published, Text: "Catalano et al., J Equine Vet Sci 2016;39:38-43, doi 10.1016/j.jevs.2015.09.002"},
		{Code: "criollo", Tier: published, Text: "study of Criollo-type mares, figshare 5719933"},
		{Code: "eley", Tier: fromMemory, Text: "Eley & French, Vet Rec 1993"},
		{Code: "icelandic", Tier: published, Text: "study of the weight of Icelandic horses (abstract on discovery.researcher.life)"},
		{Code: "kay", Tier: published, Text: "Kay, Pearson & Ouassat, Vet Rec 2004;154:85-88, as quoted by De Beaudrap, thesis, ENV Toulouse 2006"},
		{Code: "marcenac", Tier: published, Text: "Marcenac & Aublet 1964, quoted in the abstract \"How much does that horse weigh?\""},
		{Code: "martinson", Tier: page, Text: "Martinson et al., J Anim Sci 2014; coefficients as printed in the trade press"},
		{Code: "mill", Tier: common, Text: "field study of a feed mill, starmilling.com/bray-mulesbodyweight.php"},
		{Code: "milner", Tier: fromMemory, Text: "Milner & Hewitt, Can Vet J 1969"},
		{Code: "minnesota", Tier: published, Text: NeckRatioSource},
		{Code: "nininahazwe", Tier: published, Text: "Nininahazwe et al., Veterinary World 2017;10:1221-1226 (abstract)"},
		{Code: "peacecorps", Tier: common, Text: "Peace Corps, Animal Traction (nzdl.org)"},
		{Code: "pearson", Tier: published, Text: "Pearson & Ouassat, Vet Rec 1996;138:229-233"},
		{Code: "quaresma", Tier: published, Text: "Quaresma et al., J Equine Vet Sci 2019 (summary)"},
		{Code: "quoted", Tier: common, Text: "later quotation of Carroll & Huntington 1988 on secondary pages; the paper's own abstract says 11,900"},
		{Code: "rider", Tier: common, Text: "Horse & Rider, April 2000, equisearch.com/how-to/eqweigh28"},
		{Code: "rodriguez", Tier: page, Text: "Rodríguez et al., Vet Rec 2007, as reported by ker.co/?p=5749"},
		{Code: "sheets", Tier: fromMemory, Text: "extension sheets, from memory only"},
		{Code: "staniar", Tier: published, Text: "Staniar et al., Equine Vet J 2004;36:149-154, doi 10.2746/0425164044868585 (abstract)"},
		{Code: "wagner", Tier: page, Text: "Wagner & Tyler, J Equine Vet Sci (2011 from memory), as reported by The Horse, article 27936"},
	}
}
