package layout

import "strconv"

// describe says of a document what its setups say of themselves: the first
// gives it its language, owner, date and subject, each its title.
func (doc *Document) describe(i int, job Job, subject string) {
	if i > 0 {
		doc.Title += "; " + job.Setup.Title
		return
	}
	doc.Lang = job.Words.T("lang")
	doc.Title, doc.Author, doc.Created = job.Setup.Title, job.Setup.By, job.Setup.Made
	doc.Subject = job.Words.T(subject, "title", job.Setup.Title, "lights", strconv.Itoa(len(job.Setup.Lights)))
	doc.Keywords = keywords(job)
}

// about is what a page of a document of several setups says of its own; nil
// where there is only one.
func about(job Job, setups int) *About {
	if setups < 2 {
		return nil
	}
	return &About{Author: job.Setup.By, Keywords: keywords(job), Created: job.Setup.Made}
}

// gather makes a document of the pages of several setups, one after another.
func gather(jobs []Job, subject string, pages func(Job) ([]Page, error)) (*Document, error) {
	doc := &Document{}
	for i, job := range jobs {
		made, err := pages(job)
		if err != nil {
			return nil, err
		}
		job.Source.from(made)
		said := about(job, len(jobs))
		for n := range made {
			made[n].About = said
		}
		doc.Pages = append(doc.Pages, made...)
		doc.describe(i, job, subject)
	}
	fitPhotos(doc.Pages)
	return doc, nil
}
