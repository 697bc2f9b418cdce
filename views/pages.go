package views

// pages lists one value of every page struct. Adding a page is one line here, one struct and one file in html/pages.
func pages() []any {
	return []any{
		SpecimenPage{},
		NoticePage{}, SignInPage{}, SetupPage{}, PeoplePage{},
		JobListPage{}, JobNewPage{}, JobShowPage{}, JobParticularsPage{}, JobSpecificationPage{}, RulesShowPage{}, RulesListPage{}, RulesSetPage{}, RulesAgainstPage{}, RunEditPage{}, RunCoverPage{},
		RunListPage{}, RunShowPage{}, RunSheetPage{}, RunFramingPage{}, MaterialListPage{},
		StageShowPage{}, StagePickPage{}, StageAskPage{}, StageBlockedPage{}, CheckShowPage{},
		PhotoListPage{}, PhotoNewPage{}, PhotoShowPage{}, PhotoCoverPage{}, PhotoFilingPage{}, PhotoTagsPage{}, PhotoSlatePage{}, DiaryListPage{}, DiaryDayPage{}, DeviationListPage{}, DeviationShowPage{}, DeviationNewPage{},
		PaperListPage{}, PaperNewPage{}, PaperShowPage{}, PackListPage{}, PackIssuingPage{}, LinkShowPage{}, GuestShowPage{}, GuestReceiptPage{}, GuestClosedPage{}, RecordShowPage{},
	}
}
