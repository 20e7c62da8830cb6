"""What stands in a mail without saying anything: greetings, thanks, closings, mail programs' lines.

English, German, Spanish, French and Arabic.

Written from memory and from mails made for the tests. Whatever is not known here counts as a
person's words, which costs the maker a look; the other way round would cost a customer's wish.
"""

from __future__ import annotations

import re

# Whole lines, folded and without punctuation; names of people and of the shop may follow the first.
SALUTATIONS = (
    "hi", "hello", "hey", "dear", "good morning", "good afternoon", "good evening", "good day",
    "hi there", "hello there", "hello again", "to", "dear sir or madam", "dear sirs",
    "hallo", "liebe", "lieber", "liebes", "guten tag", "guten morgen", "guten abend", "moin",
    "servus", "grüß gott", "grüezi", "grüezi mitenand", "grüessech", "hoi", "hoi zäme", "sali",
    "salü", "sehr geehrte", "sehr geehrter",
    "sehr geehrte damen und herren",
    "hola", "buenos días", "buenas tardes", "buenas noches", "buenas", "estimado", "estimada",
    "estimados", "estimadas", "querido", "querida",
    "bonjour", "bonsoir", "salut", "cher", "chère", "madame", "monsieur",
    "مرحبا", "مرحبًا", "أهلا", "أهلًا", "السلام عليكم", "صباح الخير", "مساء الخير",
    "عزيزي", "عزيزتي", "تحية طيبة",
)  # fmt: skip
TO_ALL = ("all", "everyone", "team", "there", "you", "zusammen", "alle", "ihr", "leute", "herr",
          "frau", "señor", "señora", "equipo", "a todos", "à tous", "mr", "mrs", "ms", "the", "and",
          "und", "y", "et")  # fmt: skip
# Between two of these: "thanks and kind regards".
JOINING = frozenset(("and", "und", "y", "e", "et", "mit", "with", "con", "و", "sowie"))
THANKS = (
    "thanks", "thank you", "many thanks", "thanks a lot", "thank you very much", "thanks so much",
    "thank you so much", "thanks again", "thanks in advance", "with thanks", "cheers", "ta",
    "danke", "danke schön", "dankeschön", "vielen dank", "besten dank", "herzlichen dank",
    "danke sehr", "tausend dank", "lieben dank", "danke im voraus", "vielen dank im voraus",
    "merci vielmal",
    "gracias", "gracias de antemano", "muchas gracias", "mil gracias", "muchísimas gracias",
    "merci", "merci d avance", "merci beaucoup", "شكرا", "شكرًا", "شكرا جزيلا", "شكرًا جزيلًا",
)  # fmt: skip
CLOSINGS = (
    "kind regards", "best regards", "regards", "warm regards", "warmest regards", "best wishes",
    "all the best", "best", "yours", "yours sincerely", "yours faithfully", "sincerely", "love",
    "lots of love", "take care", "many greetings", "greetings", "see you soon", "bye",
    "with kind regards", "with best wishes", "kindest regards", "xx", "xxx", "x",
    "mit freundlichen grüßen", "mit freundlichem gruß", "freundliche grüße", "viele grüße",
    "liebe grüße", "beste grüße", "herzliche grüße", "schöne grüße", "gruß", "grüße", "mfg", "lg",
    "vg", "bis bald", "tschüs", "tschüss", "alles liebe", "alles gute",
    "saludos", "un saludo", "saludos cordiales", "atentamente", "un abrazo", "abrazos", "besos",
    "hasta pronto", "cordialmente", "con cariño",
    "cordialement", "bien cordialement", "bises", "à bientôt", "amicalement",
    "مع التحية", "تحياتي", "مع أطيب التحيات", "أطيب التحيات", "مع السلامة", "مع الشكر",
)  # fmt: skip
# A plain yes beside a plain yes adds nothing: "OK, the code is", in these words alone.
YES_WORDS = frozenset((
    "ok", "okay", "yes", "ja", "sí", "si", "oui", "نعم", "it", "is", "the", "my", "code", "mein",
    "der", "lautet", "ist", "el", "mi", "código", "es", "please", "here", "hier", "answer",
))  # fmt: skip
# Words that make even a signature something to read.
TELLING = re.compile(
    r"\b(?:p\.? ?s\b|n\.? ?b\b|please|pls|change|wrong|not|but|instead|stop|wait|writ\w*|spel\w*|"
    r"bitte|ändern|falsch|nicht|kein\w*|aber|statt|halt|moment|schreib\w*|ohne|"
    r"por favor|cambi\w*|mal|no|sin|pero|espera\w*|escrib\w*|"
    r"changer|pas|mais|attend\w*|écri\w*|sans)\b|لا|من فضلك|غير|خطأ|لكن|انتظر|اكتب",
    re.IGNORECASE,
)
# What opens the line above a quoted letter ("On Tue, 1 Dec 2026 at 10:12, Tern Row <hello@…>
# wrote:", over three lines at most), and the words in it beside names and the day.
REPLY_INTRO = re.compile(
    r"^(?:on|am|el|le|op|il|em|w dniu|dnia|pon|wt|śr|czw|pt|sob|niedz|ndz|"
    r"den (?=mån|tis|ons|tors|fre|lör|sön|\d)|في|بتاريخ)\b"
    r"[^\n]{0,200}(?:\n[^\n]{0,200}){0,2}?:[ \t]*$|^[^\n]{0,300}\byazdı:[ \t]*$",
    re.IGNORECASE | re.MULTILINE,
)
INTRO_WORDS = frozenset((
    "on", "am", "el", "le", "op", "il", "em", "at", "um", "a", "las", "les", "om", "uhr", "the",
    "der", "die", "das", "de", "del", "wrote", "schrieb", "escribió", "écrit", "schreef",
    "scritto", "escreveu", "h", "utc", "gmt", "في", "بتاريخ", "كتب", "ما", "يلي", "تمت", "كتابة",
    "بواسطة",
))  # fmt: skip
# The same in such a line alone: shops write to people whose mail programs speak otherwise, such as
# Dutch, Italian, Portuguese, Polish, Swedish and Turkish.
ONLY_INTRO_WORDS = frozenset((
    "à", "ha", "giorno", "alle", "ore", "dia", "às", "w", "dniu", "dnia", "o", "godz", "użytkownik",
    "napisał", "napisała", "den", "kl", "skrev", "tarihinde", "şunu", "şunları", "saat", "yazdı",
    "ndz",
))  # fmt: skip
# "From: … Sent: … To: … Subject: …" above a quoted mail; the subject's own words stay. Mail
# programs also speak Italian, Portuguese, Polish, Dutch, Swedish, Danish, Norwegian, Turkish and
# Czech.
HEADER_LINE = re.compile(
    r"^\s*[*_]{0,2}(?:from|sent|date|to|cc|bcc|reply-to|von|gesendet|datum|an|kopie|de|enviado el|"
    r"enviad[oa](?: em)?|fecha|para|envoyé|date d[’']envoi|à|من|إلى|تاريخ|تاريخ الإرسال|"
    r"da|inviato|data|a|od|wysłan[oey]|do|dw|van|verzonden|aan|från|skickat|till|fra|sendt|dato|til|"
    r"kopi|kopia|kimden|gönderildi|gönderilen|tarih|kime|bilgi|odesláno|komu)[*_]{0,2}"
    r"\s*:[*_]{0,2}\s+\S.*$",
    re.IGNORECASE,
)
SUBJECT_LINE = re.compile(
    r"^\s*[*_]{0,2}(?:subject|betreff|asunto|objet|الموضوع|oggetto|assunto|temat|onderwerp|ämne|"
    r"emne|konu|předmět)[*_]{0,2}\s*:[*_]{0,2}\s*",
    re.IGNORECASE,
)
ANSWERING = re.compile(
    r"^(?:\s*(?:(?:re(?:\[\d+\]|\(\d+\))?|fw|fwd|aw|wg|rv|tr|antw|odp|sv|ynt|ilt|rif|رد)\s*:|\[(?:ext|extern|external|externo|externe)\]))+"
    r"\s*",
    re.IGNORECASE,
)
FURNITURE = re.compile(
    r"^\s*(?:"
    r"[-_=*—–]{2,}\s*"
    r"|[-—–]{2,}\s*(?:original message|forwarded message|ursprüngliche nachricht|"
    r"weitergeleitete nachricht|mensaje original|mensaje reenviado|message d[’']origine|"
    r"message transféré|messaggio originale|messaggio inoltrato|mensagem original|"
    r"mensagem encaminhada|wiadomość oryginalna|oryginalna wiadomość|treść przekazanej wiadomości|"
    r"oorspronkelijk bericht|doorgestuurd bericht|ursprungligt meddelande|"
    r"vidarebefordrat meddelande|oprindelig meddelelse|opprinnelig melding|videresendt melding|"
    r"orijinal mesaj|yönlendirilmiş mesaj|původní zpráva|الرسالة الأصلية)\s*[-—–]{2,}"
    r"|begin forwarded message\s*:|anfang der weitergeleiteten nachricht\s*:"
    r")\s*$",
    re.IGNORECASE,
)
# "Sent from my iPhone": after these, names of devices and programs alone.
SENT_FROM = re.compile(
    r"^\s*(?:sent (?:from|with|via)|get|von meine[mr]|gesendet (?:von|mit|aus)|"
    r"enviado (?:desde|con|do|pelo)|envoyé (?:de|depuis|avec)|inviato (?:da|dal|con)|"
    r"wysłan[oey] (?:z|ze|za pomocą)|verzonden (?:vanaf|met)|verstuurd vanaf|"
    r"skickat från|sendt fra|odesláno z|أ?ُ?رسلت من|تم الإرسال من|مرسل من)\s+(.+?)\s*(?:<https?://\S+>)?\s*$",
    re.IGNORECASE,
)
DEVICES = frozenset((
    "iphone", "ipad", "ipod", "mac", "apple", "ios", "android", "samsung", "galaxy", "google",
    "pixel", "huawei", "honor", "xiaomi", "redmi", "oppo", "nokia", "sony", "xperia", "motorola",
    "oneplus", "fairphone", "blackberry", "outlook", "gmail", "yahoo", "proton", "protonmail",
    "thunderbird", "windows", "gmx", "web", "freemail", "telekom", "icloud", "aol", "hotmail",
    "bluemail", "fairemail", "spark", "zimbra", "phone", "smartphone", "mobile", "mobil", "handy",
    "mobiltelefon", "telefon", "tablet",
    "teléfono", "móvil", "téléphone", "أيفون", "آيفون", "أندرويد",
    "هاتفي", "جهازي", "جوالي", "هاتف", "جهاز",
))  # fmt: skip
BESIDE_DEVICES = frozenset((
    "my", "meinem", "meiner", "mein", "mi", "mon", "ma", "for", "für", "para", "pour", "the", "der",
    "l", "mail", "app", "application", "aplicación", "gesendet", "versendet", "verschickt", "de",
    "del", "il", "mio", "mia", "mijn", "meu", "minha", "min", "mit", "mojego", "mého", "a", "på",
    "voor", "per", "dla", "för", "til",
    "ال", "الـ", "الخاص", "بي", "pro", "plus", "max", "mini", "ultra", "5g",
))  # fmt: skip
MODEL = re.compile(r"[a-z]{1,2}\d{1,3}[a-z]?", re.IGNORECASE)
# Behind these a number of two digits is a model: "iPhone 14".
NUMBERED = frozenset(("iphone", "pixel", "galaxy", "redmi", "honor", "oneplus", "fairphone"))
# "+353 1 555 0199", "Tel. 01632 960000", "(555) 555-0199": nothing but a number, and no day.
TELEPHONE = re.compile(
    r"^\s*(?!\d{1,2}[ ./-]+\d{1,2}[ ./-]+\d{2,4}\s*$)(?:"
    r"(?:tel|phone|telephone|mobile|mob|fon|telefon|mobil|handy|teléfono|tél|fax|t|m|f|هاتف)"
    r"[.:]*\s*\+?\(?\d[\d ()/.–-]{5,}"
    r"|(?:\+|\(?0)\d?[\d ()/.–-]{6,}"
    r"|\(\d{3}\) ?\d{3}[ -]\d{4}|\d{3}-\d{3}-\d{4}"
    r")\s*$",
    re.IGNORECASE,
)
# "12 Quay Street, Galway", "Hauptstraße 5", "Calle Mayor, 5"; and below such a line a town behind
# its code. Whole lines of capitalised words, so that few wishes look like one.
STREET = re.compile(
    r"^\s*(?:"
    r"\d{1,4}[A-Za-z]?,? (?:[A-Z][\w'’.-]+ ){1,3}"
    r"(?:Street|St\.?|Road|Rd\.?|Avenue|Ave\.?|Lane|Drive|Terrace|Crescent)"
    r"|[A-ZÄÖÜ][\wß-]{2,}(?:straße|strasse|str\.|weg|allee|gasse|ufer|platz) \d{1,4} ?[a-z]?"
    r"|(?:Calle|C/|Avda?\.|Avenida|Plaza|Paseo) ?"
    r"(?:(?:[A-ZÁÉÍÓÚÑ][\wáéíóúñ-]+|de|del|la|las|los),? ?){1,4}\d{1,4}"
    r"|\d{1,4},? [Rr]ue(?: (?:[A-ZÀÂÉÈ][\wàâéèêîôûç-]+|de|du|des|la|les)){1,4}"
    r")(?:, (?:[A-Z]?\d{4,5} )?[A-ZÄÖÜ][\wäöüß’-]+(?: [A-Z][\w’-]+)?)*\s*$"
)
TOWN = re.compile(
    r"^\s*(?:[A-Z]-)?(?:\d{5} [A-ZÄÖÜÁÉÍÓÚ][\w-]+(?: [\w-]+)?"
    r"|(?:[A-Z][\w’-]+,? )?(?:[A-Z]{1,2}\d[A-Z\d]? \d[A-Z]{2}|[A-Z]\d[\dW] [A-Z\d]{4}))\s*$"
)
# Pictures that say no more than a yes and thanks, or stand before a number or an address; every
# other, such as a thumb turned down, a face that cries or a coloured heart, says something.
KIND_PICTURES = frozenset(
    "👍👌🙏🙌👏🤝💪❤♥💕💖😀😃😄😁😆😊🙂😍🥰😘😎🤩🤗☺🎉🥳✨✅✔✓☑☎✆📞📱✉📧📨🌐📍🏠🏡©®™"
)
SKIN = re.compile("[\U0001f3fb-\U0001f3ff]")  # shades of the picture before
COMPANY = re.compile(r"\b(?:Ltd|Limited|GmbH|AG|KG|Inc|LLC|S\.?L\.?|S\.?A\.?|SARL|Sons|Co)\.?\s*$")
