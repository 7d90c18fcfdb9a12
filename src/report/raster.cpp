#include "report/raster.h"

#include <cairo.h>
#include <cmath>
#include <memory>
#include <stdexcept>

#include <librsvg/rsvg.h>

#include "report/fonts.h"
#include "report/own_process.h"

#if defined(__SANITIZE_ADDRESS__)
// Fontconfig keeps the fonts it found until the program ends, SOCI what was left of a connection that failed.
extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions() {
    return "leak:libfontconfig.so\nleak:libsoci_postgresql";
}
extern "C" const char* __lsan_default_options();
extern "C" const char* __lsan_default_options() { return "print_suppressions=0"; }
#endif

namespace graftwright {
namespace {

template <auto Release>
struct Releaser {
    template <typename Thing>
    void operator()(Thing* thing) const {
        Release(thing);
    }
};

std::runtime_error failure(const char* what, GError* error) {
    std::string words = what;
    if (error != nullptr) {
        words += std::string(": ") + error->message;
        g_error_free(error);
    }
    return std::runtime_error(words);
}

cairo_status_t append(void* target, const unsigned char* data, unsigned int length) {
    static_cast<std::string*>(target)->append(reinterpret_cast<const char*>(data), length);
    return CAIRO_STATUS_SUCCESS;
}

std::string drawn(const std::string& svg, int width_px) {
    bring_letters();
    GError* error = nullptr;
    const std::unique_ptr<RsvgHandle, Releaser<g_object_unref>> handle(
        rsvg_handle_new_from_data(reinterpret_cast<const guint8*>(svg.data()), svg.size(), &error));
    if (!handle) throw failure("librsvg refuses it", error);
    double width = 0, height = 0;
    if (rsvg_handle_get_intrinsic_size_in_pixels(handle.get(), &width, &height) == 0 || !(width > 0)) {
        throw failure("it has no size", nullptr);
    }
    const int height_px = static_cast<int>(std::lround(height * width_px / width));
    const std::unique_ptr<cairo_surface_t, Releaser<cairo_surface_destroy>> surface(
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, width_px, height_px));
    const std::unique_ptr<cairo_t, Releaser<cairo_destroy>> context(cairo_create(surface.get()));
    const RsvgRectangle whole{0, 0, static_cast<double>(width_px), static_cast<double>(height_px)};
    if (rsvg_handle_render_document(handle.get(), context.get(), &whole, &error) == 0) {
        throw failure("librsvg", error);
    }
    std::string png;
    const cairo_status_t status = cairo_surface_write_to_png_stream(surface.get(), append, &png);
    if (status != CAIRO_STATUS_SUCCESS) throw failure(cairo_status_to_string(status), nullptr);
    return png;
}

}  // namespace

std::string png_of_svg(const std::string& svg, int width_px) {
    try {
        return in_own_process([&] { return drawn(svg, width_px); });
    } catch (const std::runtime_error& error) {
        throw std::runtime_error(std::string("the picture could not be drawn: ") + error.what());
    }
}

}  // namespace graftwright
