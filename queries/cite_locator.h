// Where in a source: the `at` of a piece of evidence in the words of a note.
//
//   page=12            p. 12                     page=12-14, page=3,7   pp. 12–14; pp. 3, 7
//                      pages may be "xii", "4v", "A3", "back cover"; a range with only one end (page=-9) is no locator
//   t=63,70            0:01:03–0:01:10           (W3C Media Fragments 1.0, normal play time)
//   xywh=10,20,30,40   detail at 10, 20, 30 × 40 px       xywh=percent:…  … per cent
//   several joined by "&"; anything else stands as it was written ("back of the print", "entry 41", "margin").
#pragma once

#include <string>
#include <string_view>

namespace saggar {

enum class PageWords {
    with_p,  // "p. 12": papers and objects
    bare,    // "12": books and articles
};

std::string locator_in_words(std::string_view at, PageWords pages = PageWords::with_p);

}  // namespace saggar
