// Sources as CSL-JSON, so that csl.h reads back the same sources; and so that pandoc and citeproc can use them: variables of
// the schema stand on the item, all else under `custom`.
#pragma once

#include <ostream>
#include <string>

#include "kg/model/record.h"

namespace saggar {

// Writes an array, an item a line. Write all sources, then finish().
class CslWriter {
public:
    explicit CslWriter(std::ostream& out) : out_(out) {}
    void put(const Source& source);
    void finish();

private:
    std::ostream& out_;
    bool any_ = false;
};

// An EDTF date as a CSL date: date-parts where the date or interval has only years, months, days, seasons and "about";
// else {"raw": EDTF}.
std::string csl_date_of(const std::string& edtf);

}  // namespace saggar
