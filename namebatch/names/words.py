"""Header words: what lists in several languages call the columns that jobs need."""

import unicodedata
from collections.abc import Sequence
from typing import Final

_TELLING: Final = 500


def header_key(header: str) -> str:
    """A header without what does not matter: case, spaces, underscores, punctuation.

    Of one that is no word any more the beginning tells.
    """
    folded = unicodedata.normalize("NFC", header[:_TELLING]).casefold()
    kept = "".join(sign for sign in folded if unicodedata.category(sign)[0] in "LMN")
    return kept or folded


def _keys(words: str) -> tuple[str, ...]:
    return tuple(header_key(word) for word in words.split(","))


NAME: Final = _keys(
    "name,names,full name,display name,name on tag,vollständiger name,"
    "namen,aufschrift,beschriftung,nom,nom complet,"
    "noms,nombre,nombre completo,nombre y apellidos,naam,volledige naam,nome,nome completo,namn,"
    "navn,nimi,nafn,imię i nazwisko,nazwa,jméno,meno,név,nume,ime,emri,vardas,vārds,nimi,"
    "όνομα,ονοματεπώνυμο,имя,фио,ім'я,име,ad,isim,ad soyad,שם,שם מלא,الاسم,اسم,الاسم الكامل,"
    "नाम,ชื่อ,名前,氏名,お名前,姓名,名字,이름,성명,tên,họ tên,họ và tên,nama,nama lengkap,jina"
)
GIVEN: Final = _keys(
    "first name,firstname,first,fname,given name,given,given names,forename,christian name,"
    "vorname,rufname,"
    "prénom,prenom,nombre,nombre de pila,primer nombre,voornaam,roepnaam,nome próprio,förnamn,"
    "tilltalsnamn,fornavn,etunimi,imię,křestní jméno,keresztnév,utónév,prenume,"
    "vārds,vardas,eesnimi,μικρό όνομα,имя,שם פרטי,الاسم الأول,名,nama depan"
)
FAMILY: Final = _keys(
    "last name,lastname,last,lname,family name,family,surname,nachname,familienname,zuname,"
    "nom de famille,"
    "apellido,apellidos,achternaam,familienaam,cognome,sobrenome,apelido,efternamn,etternavn,"
    "efternavn,sukunimi,nazwisko,příjmení,priezvisko,vezetéknév,családnév,nume de familie,"
    "uzvārds,pavardė,perekonnanimi,επώνυμο,фамилия,soyad,soyadı,שם משפחה,اسم العائلة,姓,苗字,"
    "nama belakang"
)
PERSON: Final = _keys(
    "guest,guests,guest name,participant,participants,participant name,attendee,attendees,"
    "attendee name,person,child,child name,child's name,kid,pupil,student,student name,member,"
    "member name,player,recipient,gast,gäste,gastname,teilnehmer,teilnehmerin,teilnehmername,"
    "name des kindes,schüler,schülerin,mitglied,spieler,empfänger,invité,invitée,invités,"
    "participante,enfant,prénom de l'enfant,élève,membre,joueur,destinataire,invitado,invitada,"
    "asistente,niño,niña,alumno,alumna,miembro,jugador,destinatario,gasten,deelnemer,leerling,"
    "speler,ontvanger,ospite,partecipante,bambino,bambina,alunno,convidado,convidada,criança,"
    "gäst,deltagare,barn,elev,gæst,gjest,deltager,deltaker,vieras,osallistuja,lapsi,gość,"
    "uczestnik,uczestniczka,dziecko,uczeń,účastník,dítě,žák,vendég,résztvevő,gyermek,"
    "καλεσμένος,συμμετέχων,παιδί,гость,участник,ребёнок,ребенок,ученик,гість,учасник,дитина,"
    "misafir,davetli,katılımcı,çocuk,öğrenci,אורח,משתתף,ילד,ضيف,مشارك,طفل,お客様,参加者,来宾,"
    "嘉宾,참가자,khách,tamu,peserta"
)
QUANTITY: Final = _keys(
    "quantity,qty,count,copies,number of copies,number of pieces,how many,pieces,pcs,amount,"
    "no of copies,anzahl,menge,stück,stückzahl,stk,quantité,qté,qte,nombre d'exemplaires,"
    "exemplaires,cantidad,cant,ejemplares,copias,aantal,hoeveelheid,stuks,quantità,quantita,"
    "copie,quantidade,qtd,cópias,antal,antall,määrä,kpl,fjöldi,ilość,liczba sztuk,sztuk,počet,"
    "množství,počet kusů,mennyiség,darab,darabszám,cantitate,količina,kogus,daudzums,kiekis,"
    "ποσότητα,количество,кол-во,кількість,adet,miktar,כמות,الكمية,العدد,मात्रा,จำนวน,"
    "数量,枚数,個数,수량,개수,số lượng,jumlah,idadi"
)
ORDER: Final = _keys(
    "order,order no,order number,order id,customer,client,auftrag,auftragsnummer,bestellung,"
    "bestellnummer,kunde,commande,numéro de commande,client,pedido,número de pedido,cliente,"
    "bestelling,bestelnummer,klant,ordine,numero ordine,encomenda,beställning,kund,bestilling,"
    "kunde,ordre,tilaus,asiakas,zamówienie,klient,objednávka,zákazník,rendelés,vevő,comandă,"
    "παραγγελία,πελάτης,заказ,клиент,замовлення,sipariş,müşteri,הזמנה,לקוח,طلب,عميل,"
    "注文,注文番号,顧客,订单,客户,주문,고객,đơn hàng,pesanan,pelanggan"
)
_TEAM: Final = _keys(
    "team,club,group,crew,squad,mannschaft,verein,gruppe,équipe,equipe,groupe,equipo,grupo,"
    "ploeg,groep,squadra,gruppo,lag,grupp,hold,drużyna,tým,csapat,команда,チーム"
)
_NUMBER: Final = _keys(
    "number,no,no.,nr,nr.,num,bib,start number,nummer,startnummer,numéro,dossard,número,"
    "dorsal,numero,numer,číslo,номер,番号,号"
)
_ROLE: Final = _keys(
    "role,title,job,function,position,funktion,rolle,titel,rôle,fonction,titre,función,cargo,"
    "título,functie,rol,ruolo,funzione,roll,stanowisko,роль,должность,役職"
)
_PLACE: Final = _keys(
    "place,town,city,village,from,home,ort,wohnort,stadt,lieu,ville,ciudad,lugar,pueblo,plaats,"
    "woonplaats,stad,città,luogo,cidade,ort,miejscowość,město,город,町"
)
_TABLE: Final = _keys("table,table number,seat,tisch,tischnummer,platz,table no,mesa,tafel,tavolo")
_YEAR: Final = _keys("year,jahr,année,annee,año,jaar,anno,ano,år,vuosi,rok,év,год,年")

_CHAINS: Final = (
    (NAME, (NAME, GIVEN, PERSON)),
    (GIVEN, (GIVEN, NAME)),
    (FAMILY, (FAMILY,)),
    *((group, (group,)) for group in (_TEAM, _NUMBER, _ROLE, _PLACE, _TABLE, _YEAR)),
)


def synonyms(field: str) -> tuple[str, ...]:
    """Keys of headers that may feed a field, best first; empty if it has no synonyms."""
    key = header_key(field)
    for group, chain in _CHAINS:
        if key in group:
            return tuple(dict.fromkeys(word for part in chain for word in part))
    return ()


def name_fields(fields: Sequence[str]) -> tuple[str, ...]:
    """Those of a template's fields that hold people's names.

    They are told by the words for names; where none is among them, the first field is taken, if
    its word does not say otherwise (team, number, …).
    """
    keys = {field: header_key(field) for field in fields}
    told = tuple(field for field in fields if keys[field] in {*NAME, *GIVEN, *FAMILY, *PERSON})
    return told or tuple(field for field in fields[:1] if not synonyms(field))


def is_order(header: str) -> bool:
    """True if a header is a word for the order, or the customer, that a row belongs to."""
    return header_key(header) in ORDER


def is_quantity(header: str) -> bool:
    """True if a header is a word for how many to make."""
    return header_key(header) in QUANTITY
