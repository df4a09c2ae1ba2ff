// saggar-paint: turns a picture of ours into PDF or PNG. SVG on standard input, the file on standard output.
//
//   saggar-paint pdf          one page as large as the picture, 1 px = 1/96 inch, always the same date of creation
//   saggar-paint png SCALE    SCALE pixels to the px: 3.125 is 300 dots to the inch
//
// librsvg and cairo are in a program of their own with limits, see viz/render/child.h. The SVG has no base address, so
// nothing outside it is read. Exit status: 0 painted, 1 wrong use or not an SVG picture, 2 too large.
#include <cairo-pdf.h>
#include <cairo.h>
#include <librsvg/rsvg.h>

#include <cmath>
#include <cstdlib>
#include <iostream>
#include <iterator>
#include <string>
#include <string_view>

#include "viz/render/limits.h"

namespace {

constexpr double kMostPixels = 150e6;  // 600 MB; four bytes each

[[noreturn]] void give_up(int status, const std::string& why) {
    std::cerr << why << '\n';
    std::exit(status);
}

cairo_status_t append(void* closure, const unsigned char* data, unsigned length) {
    static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

void paint(RsvgHandle* picture, cairo_surface_t* surface, double width, double height) {
    cairo_t* context = cairo_create(surface);
    const RsvgRectangle viewport{0, 0, width, height};
    GError* error = nullptr;
    if (!rsvg_handle_render_document(picture, context, &viewport, &error)) give_up(1, error->message);
    if (cairo_status(context) != CAIRO_STATUS_SUCCESS) give_up(1, cairo_status_to_string(cairo_status(context)));
    cairo_destroy(context);
}

// Equal pictures must give equal files, so the time of day goes. cairo 1.16 takes a date of ours but then leaves out
// the "D:" that PDF (ISO 32000-1, 7.9.4) asks for; so its own date is overwritten, which keeps every byte offset.
void fix_creation_date(std::string& pdf) {
    const std::string_view before = "/CreationDate (D:", date = "19700101000000";
    const auto at = pdf.rfind(before);
    if (at == std::string::npos || at + before.size() + date.size() > pdf.size())
        give_up(1, "the PDF holds no date of creation");
    pdf.replace(at + before.size(), date.size(), date);
}

std::string pdf(RsvgHandle* picture, double width, double height) {
    std::string bytes;
    cairo_surface_t* surface = cairo_pdf_surface_create_for_stream(append, &bytes, width * 0.75, height * 0.75);
    paint(picture, surface, width * 0.75, height * 0.75);
    cairo_surface_finish(surface);
    if (cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS)
        give_up(1, cairo_status_to_string(cairo_surface_status(surface)));
    cairo_surface_destroy(surface);
    fix_creation_date(bytes);
    return bytes;
}

std::string png(RsvgHandle* picture, double width, double height, double scale) {
    const double w = std::ceil(width * scale), h = std::ceil(height * scale);
    if (!(w * h <= kMostPixels) || w > 32767 || h > 32767)
        give_up(2, "the picture is too large for PNG at this resolution: take a smaller --dpi, or PDF or SVG, which have no such limit");
    cairo_surface_t* surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, static_cast<int>(w), static_cast<int>(h));
    if (cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS)
        give_up(2, cairo_status_to_string(cairo_surface_status(surface)));
    cairo_t* paper = cairo_create(surface);
    cairo_set_source_rgb(paper, 1, 1, 1);
    cairo_paint(paper);
    cairo_destroy(paper);
    paint(picture, surface, w, h);
    std::string bytes;
    if (cairo_surface_write_to_png_stream(surface, append, &bytes) != CAIRO_STATUS_SUCCESS)
        give_up(1, "the PNG could not be written");
    cairo_surface_destroy(surface);
    return bytes;
}

}  // namespace

int main(int argc, char** argv) {
    saggar::viz::obey({2048, 60});
    setenv("TZ", "UTC", 1);
    const std::string format = argc > 1 ? argv[1] : "";
    const double scale = argc > 2 ? std::atof(argv[2]) : 1;
    if ((format != "pdf" && format != "png") || !(scale > 0))
        give_up(1, "use: saggar-paint pdf | saggar-paint png SCALE");
    const std::string svg((std::istreambuf_iterator<char>(std::cin)), std::istreambuf_iterator<char>());
    GError* error = nullptr;
    RsvgHandle* picture = rsvg_handle_new_from_data(reinterpret_cast<const guint8*>(svg.data()), svg.size(), &error);
    if (picture == nullptr) give_up(1, error->message);
    rsvg_handle_set_dpi(picture, 96);
    double width = 0, height = 0;
    if (!rsvg_handle_get_intrinsic_size_in_pixels(picture, &width, &height) || width <= 0 || height <= 0)
        give_up(1, "the picture has no size");
    const std::string bytes = format == "pdf" ? pdf(picture, width, height) : png(picture, width, height, scale);
    std::cout.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    std::cout.flush();
    std::_Exit(std::cout ? 0 : 1);
}
