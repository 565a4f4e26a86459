"""Photos that people hand in: which kinds are taken, and why one is not."""

from bot.rules.core.photos import MOST_PIXELS
from bot.rules.core.refusal_reasons import Reason

TAKEN = "PNG or JPEG"
"""The kinds that a form says."""
REFUSALS = {
    Reason.PHOTO_KIND: f"I cannot use that file as a picture. Please take a {TAKEN}. "
    "If your phone takes other pictures, take a screenshot of the photo and send that.",
    Reason.PHOTO_HEIC: "I cannot read this kind of photo (HEIC or AVIF). Set the camera of your phone to JPEG, "
    "or take a screenshot of the photo and send that.",
    Reason.PHOTO_NOT_FETCHED: "I could not fetch your photo from the platform. Please send it once more in a minute.",
    Reason.PHOTO_PIXELS: "That picture has too many dots: "
    f"{MOST_PIXELS // 1_000_000} megapixels are the most. Please take a smaller one, or a screenshot.",
    Reason.PHOTO_LARGE: "That picture is too large: {most} MB is the most. Please take a smaller one, or a screenshot.",
}
