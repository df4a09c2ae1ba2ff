// Sources as BibTeX, so that bibtex.h reads back the same sources. Dates stand as `date` (EDTF, as biblatex takes it) and, where
// they are a plain year, as `year` too.
#pragma once

#include <ostream>

#include "kg/model/record.h"

namespace saggar {

class BibtexWriter {
public:
    explicit BibtexWriter(std::ostream& out) : out_(out) {}
    void put(const Source& source);
    void finish() {}

private:
    std::ostream& out_;
};

}  // namespace saggar
