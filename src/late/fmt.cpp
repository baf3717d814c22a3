// libfmt itself: its headers hold its source, which is compiled once, here (cmake/Runtime.cmake). What
// other sources take from it without its being inline is named below, as format.h declares it `extern`.
#include <fmt/format-inl.h>

#if FMT_VERSION / 10000 != 9
#error "written for libfmt 9: see which templates format.h declares extern"
#endif

FMT_BEGIN_NAMESPACE
namespace detail {

template FMT_API auto thousands_sep_impl<char>(locale_ref) -> thousands_sep_result<char>;
template FMT_API auto decimal_point_impl<char>(locale_ref) -> char;
template FMT_API void buffer<char>::append(const char*, const char*);
template FMT_API void vformat_to(buffer<char>&, string_view,
                                 basic_format_args<FMT_BUFFER_CONTEXT(type_identity_t<char>)>,
                                 locale_ref);

}  // namespace detail
FMT_END_NAMESPACE
